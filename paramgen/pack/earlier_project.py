"""What stands in a project's folder already: the same project, or another that would be lost.

It is another if its plan tells another recipe, title, size, count, choice, length, hoop, number of
copies or thing held. What the folder's name leaves out, lengths and the hoop, so still keeps one
from being lost under the other.
"""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from paramgen.lengths import show, show_size
from paramgen.making import Made
from paramgen.pack.put_in_place import PLAN
from paramgen.pack.seal import json_in
from paramgen.plan.read_plan import LARGEST_PLAN
from paramgen.plan.write_plan import plan
from paramgen.vocabulary.findings import WriteError
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english

#: So many differences are told of; of the rest their number.
_MOST_TOLD = 3

ProjectFacts = dict[str, str]


class AnotherProjectError(WriteError):
    """A folder holds another project; it is still there.

    Parameters
    ----------
    folder : Path
    differs : str
        What tells the two apart, in words.
    """

    def __init__(self, folder: Path, differs: str) -> None:
        super().__init__(
            f"{folder.absolute()} holds another project: {differs}. "
            "Nothing was changed. To keep both give this one a folder with --out DIR; to put it in "
            "the place of the other say --replace."
        )
        self.differs = differs


def made_before(made: Made, folder: Path, *, replaces: bool) -> bool:
    """Whether a folder holds a project made before, which the new one may replace.

    The same project is one with the same recipe, title, sizes, counts, choices and lengths, for
    the same hoop; papers and kinds of stitch file may differ.

    Parameters
    ----------
    made : Made
    folder : Path
        Where it is to go; need not be there.
    replaces : bool
        Whether another project is to be replaced as well.

    Raises
    ------
    AnotherProjectError
        If the folder holds another project, and that is not to be replaced.
    """
    there = _facts_in(folder, made.project.unit)
    if there is None:
        return False
    now = facts(plan(made, {}, []).model_dump(mode="json"), made.project.unit)
    other = [
        f"{name} {there.get(name, 'not')} there, {now.get(name, 'not')} now"
        for name in dict.fromkeys([*now, *there])
        if _alike(there.get(name)) != _alike(now.get(name))
    ]
    # Of an older version's plan, or one cut short, nothing may be known.
    if other and there and not replaces:
        more = f" and {len(other) - _MOST_TOLD} more" if len(other) > _MOST_TOLD else ""
        raise AnotherProjectError(folder, f"{'; '.join(other[:_MOST_TOLD])}{more}")
    return True


def _alike(said: str | None) -> str | None:
    """What is told, whichever unit its words go by: a recipe's title has others in inches."""
    return said and english().as_used(said, Unit.INCH)


def facts(plan: Mapping[str, Any], unit: Unit) -> ProjectFacts:
    """What makes a project another one, by name, as a person reads it.

    Raises
    ------
    LookupError, TypeError, ValueError, AttributeError
        If it is not the plan of a project.
    """
    return {name: str(said) for name, said in _facts(plan, unit)}


def _facts(plan: Mapping[str, Any], unit: Unit) -> Iterator[tuple[str, str]]:
    yield "recipe", plan["recipe"]
    yield "title", f'"{plan["title"]}"'
    hoop = plan["hoop"]
    yield "hoop", f"{hoop['name']} ({show_size(hoop['width'], hoop['height'], unit)})"
    yield "margin in the hoop", _length(hoop["margin"], unit)
    yield "turned in the hoop", "yes" if hoop["turned"] else "no"
    yield "copies", str(len(plan["copies"]))
    for one in plan["choices"]:
        yield one["name"], one["option"]
    for one in plan["counts"]:
        yield one["name"], f"{one['value']:g}"
    for one in (*plan["sizes"], *plan["lengths"]):
        yield one["name"], _length(one["value"], unit)
    on = [f"{one['panel']} {one['asked']}" for one in plan.get("embellishments", ())]
    yield "stitched on its panels", "; ".join(on) or "nothing"
    yield "what it holds", ", ".join(one["title"] for one in plan["holds"]) or "nothing"


def _length(mm: float, unit: Unit) -> str:
    """A length so that no two read alike."""
    shown = show(mm, unit)
    exact = f"{mm:g} mm"
    return shown if unit is Unit.MM and shown == exact else f"{shown} ({exact})"


def _facts_in(folder: Path, unit: Unit) -> ProjectFacts | None:
    """What is known of the project in a folder: nothing of a plan that says too little.

    None if there is no plan of ours.
    """
    there = json_in(folder / PLAN, LARGEST_PLAN)
    if not isinstance(there, dict) or there.get("made_by") != "paramgen":
        return None
    try:
        return facts(there, unit)
    except (LookupError, TypeError, ValueError, AttributeError):
        return {}
