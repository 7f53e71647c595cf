"""The page in the browser, served on this machine alone.

One process answers: it knows no sewing, checks who asks (`guard.py`), and hands all that must be
worked out to processes of their own (`worker_processes.py`), each with a warm workshop. So whatever
is asked, however large, the page answers, and a process that takes too long is ended. All that was
asked is in the address (`typed_address.py`), in the words of the command line, and is understood by
the same room (`ordering/`): the page and the commands cannot differ.

What is shown is drawn and put in words here, as parts of a page (`project_parts.py`). A change of a
size is answered with the parts that are not as they were, the picture first.
"""
