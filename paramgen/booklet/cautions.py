"""Every caution a booklet can give, in one table, with when and where it is given."""

from collections.abc import Callable

from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Act, NotionSort
from paramgen.vocabulary.project import Project, Step
from paramgen.wording.load import english


@dataclass(frozen=True)
class Caution:
    """A caution.

    Parameters
    ----------
    title : str
        A few words.
    says : str
    """

    title: str
    says: str


@dataclass(frozen=True)
class CautionPlace:
    """Where in the booklet something is said.

    Parameters
    ----------
    project : Project
    part : str
        `all`, `cut`, `fold` or `step`.
    step : Step or None
        For the part `step`.
    thick : bool
        Whether what is sewn there is thick; anywhere, for `all`.
    near_zip : bool
        Whether what is sewn there comes near a zip.
    """

    project: Project
    part: str
    step: Step | None = None
    thick: bool = False
    near_zip: bool = False


def cautions_at(place: CautionPlace) -> tuple[Caution, ...]:
    """Cautions that apply at a place, in the order of the table, in the person's words."""
    unit = place.project.unit
    return tuple(
        Caution(english().as_used(one.title, unit), english().as_used(one.says, unit))
        for one, applies in _TABLE
        if applies(place)
    )


def _does(place: CautionPlace, act: Act) -> bool:
    if place.part == "all":
        return any(step.act is act for step in place.project.steps)
    return place.step is not None and place.step.act is act


def _first_stitch(place: CautionPlace) -> bool:
    first = next((step for step in place.project.steps if step.lines), None)
    return place.part == "all" or (place.step is not None and place.step is first)


#: Small metal parts.
_METAL = (NotionSort.SNAP, NotionSort.RING, NotionSort.RIVET, NotionSort.CLAMP)


def _thick(place: CautionPlace) -> bool:
    return place.thick


def _zip(place: CautionPlace) -> bool:
    """Stitching near a zip, where the needle may meet a stop or the slider."""
    zips = any(one.slit for step in place.project.steps for one in step.layers)
    return zips and (place.part == "all" or place.near_zip or _does(place, Act.TOP_STITCH))


def _hardware(place: CautionPlace) -> bool:
    metal = any(one.sort in _METAL for one in place.project.notions)
    first = next((s for s in place.project.steps if s.act is Act.FASTEN), None)
    return metal and _does(place, Act.FASTEN) and (place.part == "all" or place.step is first)


def _iron(place: CautionPlace) -> bool:
    return place.part == "fold" or _does(place, Act.PRESS) or _does(place, Act.FUSE)


def _iron_on_coil(place: CautionPlace) -> bool:
    return _does(place, Act.PRESS) and any(
        one.sort is NotionSort.ZIP for one in place.project.notions
    )


def _cord(place: CautionPlace) -> bool:
    project = place.project
    cords = any(one.sort in (NotionSort.CORD, NotionSort.ELASTIC) for one in project.notions)
    free = [max(piece.folded) for piece in project.pieces if piece.fabric in project.trims]
    free += [
        one.length or 0.0
        for one in project.notions
        if one.sort in (NotionSort.RIBBON, NotionSort.ELASTIC)
    ]
    there = cords or max(free, default=0.0) > FREE_LENGTH
    return there and (place.part == "all" or _does(place, Act.FASTEN))


#: A loop or a strap that is longer can go round a neck, mm: EN 71-1, 5.4, of cords on toys.
FREE_LENGTH = 220.0


def _everywhere(place: CautionPlace) -> bool:
    return place.part == "all"


#: Of whatever is cut on a mat or with scissors.
CUTTING = Caution(
    "Rotary cutter and scissors",
    "Cut away from yourself and close the cutter each time you put it down.",
)

#: Sewing rules of 4-H: fingers beside the needle and never in front of it, no pins in its way.
#: Small parts: 16 CFR 1501.4. Cords: EN 71-1. The rest is common practice, no source.
_TABLE: tuple[tuple[Caution, Callable[[CautionPlace], bool]], ...] = (
    (
        Caution(
            "Moving needle",
            "Keep your fingers beside the hoop and never in front of or under a moving needle. "
            "Stop the machine before you lay, tape, trim or reach into the hoop. No pins in its "
            "way.",
        ),
        _first_stitch,
    ),
    (
        Caution(
            "Thick layers",
            "A needle can bend or break here. Wear eye protection and let the machine run slowly.",
        ),
        _thick,
    ),
    (
        Caution(
            "Never sew over metal",
            "Only a coil zip, its stops and slider well away from the line. Turn the wheel by hand "
            "where you are not sure.",
        ),
        _zip,
    ),
    (
        CUTTING,
        lambda place: place.part in ("all", "cut"),
    ),
    (
        Caution(
            "Hot iron",
            "Keep your hands clear of the iron and its steam. It stays hot long after use.",
        ),
        _iron,
    ),
    (
        Caution(
            "Iron and zip coil",
            "Keep the iron off the coil, which melts.",
        ),
        _iron_on_coil,
    ),
    (
        Caution(
            "Small parts",
            "Snaps, rings and eyelets are fitted last and never sewn over. Small parts can be "
            "swallowed: keep them, and what they may come off, away from small children.",
        ),
        _hardware,
    ),
    (
        Caution(
            "Cords and loops",
            "Long cords and loops are a danger to small children.",
        ),
        _cord,
    ),
    (
        Caution(
            "Manuals first",
            "What the manuals of your machine and the makers of your materials say comes before "
            "anything said here.",
        ),
        _everywhere,
    ),
    (
        Caution(
            "If you sell what you make",
            "Keep to your local rules on goods for sale: on safety, on labels, and above all "
            "on goods for children.",
        ),
        _everywhere,
    ),
)
