"""From what a person typed to an order, with every fault in it at once; it prints nothing.

What is wrong with an option is headed as it was typed, `--hoop`; grading takes the dashes off, as
there it is a column.
"""
