"""What an address says of a kit, beside the project that it is of.

Entries of a kit stand with `kit.` before their names, those of a cloth or a price with its name
behind: `kit.count=12&kit.cloth.outer=110cm&kit.price.outer=12/m`.
"""

from collections.abc import Mapping
from dataclasses import replace
from urllib.parse import parse_qsl

from paramgen.kits.kit_question import KitQuestion
from paramgen.page.typed_address import KIT, MOST_ENTRIES, MOST_LETTERS
from paramgen.vocabulary.findings import Fault
from paramgen.vocabulary.frozen_data import dataclass

_CLOTH, _PRICE = f"{KIT}cloth.", f"{KIT}price."


@dataclass(frozen=True, kw_only=True)
class KitField:
    """Something that the form of a kit asks for.

    Parameters
    ----------
    name : str
        In `KitQuestion`.
    title, usual, note : str
        Beside it, in it while it is empty, and below it.
    """

    name: str
    title: str
    usual: str = ""
    note: str = ""

    @property
    def key(self) -> str:
        """In the address."""
        return f"{KIT}{self.name}"


#: What is asked of every kit, besides its cloths and prices.
FIELDS = (
    KitField(name="count", title="how many to make", usual="1"),
    KitField(
        name="stages",
        title="stages of cutting, 2 or 3",
        usual="2",
        note="In 3, pieces may lie behind each other in a strip.",
    ),
    KitField(name="layers", title="strips cut at once, at most", usual="4"),
    KitField(name="selvedge", title="selvedge cut off each side", usual="25 mm or 1 in"),
    KitField(name="squaring", title="cut off the end to square it up", usual="25 mm or 1 in"),
    KitField(name="shrinkage", title="what is lost in the wash", usual="0 %"),
    KitField(
        name="mat",
        title="mat of a cutting machine",
        usual="30 x 60 cm",
        note="Only if one cuts the pieces; the part that its blade reaches.",
    ),
    KitField(name="people", title="people in a class"),
    KitField(name="machines", title="machines they have"),
    KitField(name="rate", title="an hour of work costs"),
    KitField(name="currency", title="currency, a label only", usual="EUR"),
    KitField(name="seconds", title="seconds to look for a shorter plan", usual="2"),
)


#: What the page calls the fields of cloths, and of prices.
CLOTHS, COSTS = "cloth to cut from", "what it costs"
_OPTIONS = {f"--{one.name}": one.title for one in FIELDS} | {"--fabric": CLOTHS, "--price": COSTS}


def at_field(fault: Fault, prices: Mapping[str, str]) -> Fault:
    """A fault with its place as the page calls the field, where a command would name an option.

    Parameters
    ----------
    fault : Fault
    prices : mapping of name to title
        Of what can be given a price.

    Examples
    --------
    >>> found = at_field(Fault("`free` is no price", "--price zip"), {"zip": "coil zip"})
    >>> found.where, at_field(Fault("`flat` is no mat", "--mat"), {}).where
    ('what it costs, coil zip', 'mat of a cutting machine')
    """
    option, _, of = fault.where.partition(" ")
    if option not in _OPTIONS:
        return fault
    of = prices.get(of, of) if option == "--price" else of
    return replace(fault, where=", ".join(filter(None, (_OPTIONS[option], of))))


@dataclass(frozen=True)
class KitInAddress:
    """What is said of a kit.

    Parameters
    ----------
    said : dict of name to text
        Of `FIELDS`.
    cloths, prices : dict of name to text
    """

    said: dict[str, str]
    cloths: dict[str, str]
    prices: dict[str, str]

    @property
    def question(self) -> KitQuestion:
        """As the command line would ask it."""
        return KitQuestion(
            **self.said,
            fabrics=tuple(f"{role}={said}" for role, said in self.cloths.items()),
            prices=tuple(f"{name}={said}" for name, said in self.prices.items()),
        )


def kit_in(query: str) -> KitInAddress:
    """Read what an address says of a kit; what is said twice counts as it is said last.

    Examples
    --------
    >>> found = kit_in("recipe=coaster&kit.count=12&kit.cloth.top=110cm&kit.mat=")
    >>> found.said, found.cloths, found.question.fabrics
    ({'count': '12'}, {'top': '110cm'}, ('top=110cm',))
    """
    said: dict[str, str] = {}
    cloths: dict[str, str] = {}
    prices: dict[str, str] = {}
    if len(query) > MOST_LETTERS:
        return KitInAddress(said, cloths, prices)
    known = {one.key: one.name for one in FIELDS}
    for key, value in parse_qsl(query, max_num_fields=MOST_ENTRIES):
        if not value.strip():
            continue
        if key in known:
            said[known[key]] = value
        elif key.startswith(_CLOTH):
            cloths[key.removeprefix(_CLOTH)] = value
        elif key.startswith(_PRICE):
            prices[key.removeprefix(_PRICE)] = value
    return KitInAddress(said, cloths, prices)
