"""The page on which a recipe is written: its text, and what comes of it at once."""

from dataclasses import replace
from pathlib import Path

from markupsafe import Markup

from paramgen.budget import MOST_BYTES
from paramgen.page.desk import Desk
from paramgen.page.filled_templates import filled
from paramgen.page.own_file import digest_of
from paramgen.page.project_parts import ShownProject, parts
from paramgen.page.typed_address import address_of, asked_in
from paramgen.page.ways import WAYS
from paramgen.vocabulary.findings import Fault, InputError


def write_page(table: Desk, query: str) -> str:
    """The page of a recipe's text: a person's own, or one that comes with the program to go by."""
    words = asked_in(query).words
    name = words.recipe or table.names[0]
    shown = ShownProject(table, address_of(replace(words, recipe=name)))
    text, was = "", ""
    faults: tuple[Fault, ...] = ()
    try:
        text = table.source(name).text
        if name in table.own:
            was = digest_of(Path(table.own[name]).read_bytes())
    except (InputError, OSError) as problem:
        faults = problem.faults if isinstance(problem, InputError) else (Fault(str(problem), name),)
    found = {part: Markup(html) for part, html in parts(shown)}
    return filled(
        "write.html",
        name=name,
        own=name in table.own,
        text=text,
        most=MOST_BYTES,
        was=was,
        faults=faults,
        parts={part: found.get(part, "") for part in SHOWN},
        ways=WAYS,
        here="/write",
        query=address_of(shown.in_hoop),
        words=shown.words,
    )


#: The parts of a project that are shown beside the text.
SHOWN = ("verdict", "picture", "key", "marks", "findings", "finished")
