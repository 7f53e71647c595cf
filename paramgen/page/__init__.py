"""The page in the browser, served on this machine alone.

One process answers: it knows no sewing, checks who asks (`guard.py`), and hands all that must be
worked out to processes of their own (`worker_processes.py`), each with a warm workshop. So whatever
is asked, however large, the page answers, and a process that takes too long is ended. All that was
asked is in the address (`typed_address.py`), in the words of the command line, and is understood by
the same room (`ordering/`): the page and the commands cannot differ.

What is shown is drawn and put in words here, as parts of a page (`project_parts.py`). A change of a
size is answered with the parts that are not as they were, the picture first.

A word more in a part is a property of `ShownProject`, of what its `Attempt` knows, and its place in
`html/part_NAME.html`. A new part is that file, a `yield` in `parts`, an element with
`data-part="NAME"` in `project.html`, filled with `parts.NAME`, and its name in `PARTS`
(`tasks.py`); to stand beside a recipe's text as well, the same in `write.html`, and `SHOWN`
(`recipe_writing.py`). What a command says too is worked out in one room for both.
`tests/page/test_page_parts.py` asks for parts without a browser; `paramgen page coaster --no-open
--port 0` prints an address to look at.
"""
