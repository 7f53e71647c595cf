"""What the exit status says."""

#: It cannot be made as asked; something typed or read is wrong; files, or what was to be shown,
#: could not be written; the program itself failed.
CANNOT, WRONG, UNWRITTEN, FAILED = 1, 2, 3, 4
#: What a shell makes of Ctrl-C: 128 and the number of the signal.
STOPPED = 130
