"""What a summary says of a row that was made, and how it is kept with its pack."""

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.front_end.framed_picture import FramedPicture
from paramgen.drawings.primitives.items import Drawing, Group
from paramgen.making import Made
from paramgen.supplies.all_supplies import supplies
from paramgen.supplies.fabric_amount import amounts
from paramgen.vocabulary.findings import Finding
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit
from paramgen.wording.say import how_bad, in_sentences

#: How many times bolder than at hand size the lines of a picture are: it is shown smaller.
_BOLD = 2.0
#: Sorts of which there is a length alone, in whole metres.
BY_THE_METRE = ("thread", "tape")


@dataclass(frozen=True, kw_only=True)
class FabricToHave:
    """Fabric to have, mm.

    Parameters
    ----------
    name, material : str
        Its part in the project, and what it is.
    pieces : int
    length, width : float
        The width is that of the fabric; of what is bought by its length alone, its own.
    narrow : bool
        Whether it is bought by its length alone.
    """

    name: str
    material: str
    pieces: int
    length: float
    width: float
    narrow: bool


@dataclass(frozen=True, kw_only=True)
class ThingToHave:
    """Something to have ready besides fabric, needles and tools.

    Parameters
    ----------
    sort, title, amount : str
        As `Supply` has them.
    quantity : int or None
        How many, where it is counted.
    length, width : float or None
        To have, mm, where it is measured.
    """

    sort: str
    title: str
    amount: str
    quantity: int | None
    length: float | None
    width: float | None


@dataclass(frozen=True)
class RowRemark:
    """Something found, or wrong, with a row.

    Parameters
    ----------
    severity : str
        Empty for a fault of what was typed.
    text : str
        Whole sentences.
    """

    severity: str
    text: str


@dataclass(frozen=True, kw_only=True)
class SummaryEntry:
    """What a summary says of a row that was made.

    Parameters
    ----------
    recipe, title : str
        The recipe's name, and what the project is.
    unit : Unit
        The person's.
    finished, field : tuple of float
        Finished size, and the hoop's field, width and height, mm.
    hoop : str
    turned : bool
        Whether it lies turned by 90° in its hoop.
    copies : int
        How many lie in one hooping.
    fabrics : tuple of FabricToHave
        For one hooping, as all that follows.
    ready : tuple of ThingToHave
    stops, stitches : int
    found : tuple of RowRemark
    picture : str
        The finished thing, open and flat, as SVG.
    view : tuple of float
        Width and height of the picture at true size, mm.
    read_first : str
        File of the pack to open.
    depth : float
        How deep it stands, mm; 0 of what lies flat.
    """

    recipe: str
    title: str
    unit: Unit
    finished: tuple[float, float]
    field: tuple[float, float]
    hoop: str
    turned: bool
    copies: int
    fabrics: tuple[FabricToHave, ...]
    ready: tuple[ThingToHave, ...]
    stops: int
    stitches: int
    found: tuple[RowRemark, ...]
    picture: str
    view: tuple[float, float]
    read_first: str
    depth: float = 0.0


def entry_of(
    made: Made, sheet: FramedPicture, folder: str, files: Mapping[str, bytes]
) -> SummaryEntry:
    """Say what a summary needs of a project.

    Parameters
    ----------
    made : Made
    sheet : FramedPicture
        The finished thing, open and flat.
    folder : str
        Name of its folder, unlike that of any other row: pictures stand in one page.
    files : mapping of file name to bytes
        What is in its pack.
    """
    project, hoop = made.project, made.room.hoop
    drawing = bare_picture(sheet, folder)
    materials = {one.role: one.material.title for one in project.fabrics}
    return SummaryEntry(
        recipe=project.recipe,
        title=project.title,
        unit=project.unit,
        finished=project.finished,
        depth=project.depth,
        field=(hoop.width, hoop.height),
        hoop=hoop.name,
        turned=project.turned,
        copies=project.copies,
        fabrics=tuple(
            FabricToHave(
                name=one.fabric,
                material=materials.get(one.fabric, ""),
                pieces=one.pieces,
                length=one.length,
                width=one.width,
                narrow=one.narrow,
            )
            for one in amounts(project.pieces, project.unit, trims=project.trims)
        ),
        ready=tuple(
            ThingToHave(
                sort=one.sort,
                title=one.title,
                amount=one.amount,
                quantity=one.quantity,
                length=one.length,
                width=one.width,
            )
            for one in supplies(made)
            if one.sort not in ("fabric", "needle", "tool")
        ),
        stops=len(made.sewn),
        stitches=sum(step.stitch_count for step in made.sewn),
        found=tuple(said_of(one, project.unit) for one in project.findings),
        picture=to_svg(drawing),
        view=(drawing.box.width, drawing.box.height),
        read_first="booklet.html" if "booklet.html" in files else "whole.svg",
    )


def said_of(finding: Finding, unit: Unit) -> RowRemark:
    """A finding in whole sentences, in the person's unit."""
    return RowRemark(how_bad(finding.severity), in_sentences(finding, unit))


def bare_picture(sheet: FramedPicture, folder: str) -> Drawing:
    """The picture of a sheet with nothing round it."""
    return Drawing(
        name=f"{folder}-finished",
        title=sheet.title,
        description=sheet.description,
        box=sheet.view,
        scale=_BOLD,
        items=(Group("picture", sheet.picture),),
    )


def as_json(entry: SummaryEntry) -> dict[str, Any]:
    """An entry as plain data, from which `from_json` makes it again."""
    return asdict(entry)


def from_json(data: Mapping[str, Any]) -> SummaryEntry:
    """Make an entry again; raises KeyError, TypeError or ValueError for anything else."""
    kept = dict(data)
    return SummaryEntry(
        **{
            **kept,
            "unit": Unit(kept["unit"]),
            "finished": _pair(kept["finished"]),
            "field": _pair(kept["field"]),
            "view": _pair(kept["view"]),
            "fabrics": tuple(FabricToHave(**one) for one in kept["fabrics"]),
            "ready": tuple(ThingToHave(**one) for one in kept["ready"]),
            "found": tuple(RowRemark(**one) for one in kept["found"]),
        }
    )


def _pair(values: Any) -> tuple[float, float]:
    width, height = values
    return float(width), float(height)
