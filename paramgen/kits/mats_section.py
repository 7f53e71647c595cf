"""Mats of a cutting machine, as a section of a kit's papers."""

from collections.abc import Iterator

from paramgen.drawings.primitives.items import Drawing
from paramgen.kits.kit_section import KitSection, KitTable
from paramgen.kits.mat_pictures import mat_picture
from paramgen.kits.mat_words import BEFORE_MATS, mat_rows, mat_title, mats_words, sheet_words
from paramgen.kits.worked_kit import Kit


def mats_section(kit: Kit) -> KitSection:
    """What is cut on mats: how a sheet is laid, what is on each mat, and its picture."""
    words = (" ".join(mats_words(laid, kit.unit)) for laid in kit.on_mats)
    return KitSection(
        name="mats",
        title="On the mats of the cutting machine",
        says=(*BEFORE_MATS, *words),
        tables=tuple(_tables(kit)),
        pictures=tuple(_pictures(kit)),
    )


def _tables(kit: Kit) -> Iterator[KitTable]:
    for laid in kit.on_mats:
        for number in range(1, len(laid.plan.mats) + 1):
            yield KitTable(
                caption=f"{mat_title(laid, number)}. {sheet_words(laid, number, kit.unit)}",
                head=("Letter", "Piece", "Cut, width × height", "How many"),
                rows=tuple(
                    (letter, title, size, str(many))
                    for letter, title, size, many in mat_rows(laid, number, kit.unit)
                ),
                widths=(1, 4, 6, 1.5),
            )


def _pictures(kit: Kit) -> Iterator[Drawing]:
    for place, laid in enumerate(kit.on_mats, 1):
        for number in range(1, len(laid.plan.mats) + 1):
            yield mat_picture(laid, number, f"mats-{place}-{number}")
