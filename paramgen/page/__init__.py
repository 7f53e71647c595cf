"""The page in the browser, served on this machine alone.

One process answers: it knows no sewing, checks who asks (`guard.py`), and hands all that must be
worked out to processes of their own (`worker_processes.py`), each with a warm workshop. So whatever
is asked, however large, the page answers, and a process that takes too long is ended. All that was
asked is in the address (`typed_address.py`), in the words of the command line, and is understood by
the same room (`ordering/`): the page and the commands cannot differ.

What is shown is drawn and put in words here, as parts of a page (`project_parts.py`). A change of a
size is answered with the parts that are not as they were, the picture first.

A picture holds no words but letters and numbers; what they stand for is text beside it
(`said_pictures.py`), which does not shrink with it. A message names a recipe's lengths as their
fields are labelled, and leads there (`labelled_names.py`).

What takes long is a job (`long_jobs.py`) of a second process, started when it is first needed
(`long_tasks.py`): packs, the map of all sizes, what would do after a refusal. It is told of by
server-sent events (`job_routes.py`), stopped when nobody watches it, and what came of it is kept
for some minutes, in memory and not on the disk. Only `put_in_folder` (`taking_tasks.py`) writes
there, below the folder that was named when the page was opened, whole or not at all. A new job is a
generator of `Told`, its name in `long_tasks.py`, and that with what it is told in `ASKED`
(`job_routes.py`); work that is one call of a function goes through `watched` (`watched_work.py`).

A file of a person's own, the picture of a fabric or a motif, is given by its bytes
(`given_routes.py`), looked at in the process that can be ended, and kept in memory by a name made
from what it holds (`given_files.py`); the browser keeps it too, and gives it again (`given.js`).

A word more in a part is a property of `ShownProject`, of what its `Attempt` knows, and its place in
`html/part_NAME.html`. A new part is that file, a `yield` in `parts`, an element with
`data-part="NAME"` in `project.html`, filled with `parts.NAME`; to stand beside a recipe's text as
well, the same in `write.html`, and `SHOWN` (`recipe_writing.py`). What is seen first is sent before
the rest is worked out, so `parts` gives it first. What a command says too is worked out in one
room for both.
`tests/page/test_page_parts.py` asks for parts without a browser; `paramgen page coaster --no-open
--port 0` prints an address to look at.
"""
