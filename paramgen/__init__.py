"""Re-derive an in-hoop sewing project for any finished size and hoop.

Examples
--------
>>> import paramgen
>>> workshop = paramgen.Workshop()
>>> room = paramgen.Room(paramgen.find_hoop("5x7in", workshop.hoops))
>>> order = paramgen.Order(workshop.recipe("coaster"), {"width": "4 in"}, room)
>>> made = workshop.make(order)  # raises InputError or CannotMakeError
>>> made.project.pieces[0].cut
(100.6, 100.6)

Fabrics are drawn as they look, each by the part that it has:

>>> pictures = paramgen.drawn_pictures(made, {"top": paramgen.Cloth("#7a9e3f")})
>>> "#7a9e3f" in pictures["finished/front.svg"]
True

A finding is a code and facts; `said` puts it in words, in the unit of who reads it.

>>> try:
...     workshop.make(paramgen.Order(workshop.recipe("coaster"), {"width": "6 in"}, room))
... except paramgen.CannotMakeError as refusal:
...     message, remedy = paramgen.said(refusal.findings[0], paramgen.Unit.MM)
>>> message.partition(": ")[0]
'the stitches need 157.4 × 157.4 mm, and the field of 130x180 has 130 × 180 mm'
"""

TYPE_CHECKING = False  # that of `typing`, which takes longer to load than the quick commands
if TYPE_CHECKING:
    from typing import Any

    from paramgen.cloths.print_picture import cloth_of_picture as cloth_of_picture
    from paramgen.hooping import Room as Room
    from paramgen.making import Attempt as Attempt
    from paramgen.making import Made as Made
    from paramgen.making import Order as Order
    from paramgen.pack.pack_files import drawn_pictures as drawn_pictures
    from paramgen.reference.hoops import Hoop as Hoop
    from paramgen.reference.hoops import find_hoop as find_hoop
    from paramgen.vocabulary.cloth import Cloth as Cloth
    from paramgen.vocabulary.findings import CannotMakeError as CannotMakeError
    from paramgen.vocabulary.findings import Finding as Finding
    from paramgen.vocabulary.findings import InputError as InputError
    from paramgen.vocabulary.unit import Unit as Unit
    from paramgen.wording.say import said as said
    from paramgen.workshop import Workshop as Workshop

__version__ = "0.1.0"

#: What other programs may use, and where it is; loaded when it is first asked for, so that the
#: quick commands stay quick.
_FACE = {
    "Attempt": "making",
    "CannotMakeError": "vocabulary.findings",
    "Cloth": "vocabulary.cloth",
    "Finding": "vocabulary.findings",
    "Hoop": "reference.hoops",
    "InputError": "vocabulary.findings",
    "Made": "making",
    "Order": "making",
    "Room": "hooping",
    "Unit": "vocabulary.unit",
    "Workshop": "workshop",
    "cloth_of_picture": "cloths.print_picture",
    "drawn_pictures": "pack.pack_files",
    "find_hoop": "reference.hoops",
    "said": "wording.say",
}

__all__ = ["__version__", *_FACE]  # noqa: PLE0604


def __getattr__(name: str) -> "Any":
    from importlib import import_module  # noqa: PLC0415

    if name not in _FACE:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_FACE[name]}"), name)
