"""Sheets as one PDF."""

from collections.abc import Sequence

from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.primitives.items import Drawing
from paramgen.papers.sheet_frame import SheetFrame, UnnumberedSheet
from paramgen.papers.typeset import quoted, typeset


def sheets(frame: SheetFrame, leaves: Sequence[UnnumberedSheet], name: str) -> tuple[Drawing, ...]:
    """Number the sheets and put round each what every sheet has."""
    return tuple(
        frame.sheet(leaf, number, len(leaves), name) for number, leaf in enumerate(leaves, 1)
    )


def printed(frame: SheetFrame, leaves: Sequence[UnnumberedSheet], name: str) -> bytes:
    """Set sheets as a PDF, drawn as much larger as the printer makes them smaller."""
    across, down = frame.printing.stretch
    source = [f"#set document(title: {quoted(frame.subject)})", '#set text(lang: "en")']
    pictures = {}
    for number, sheet in enumerate(sheets(frame, leaves, name), 1):
        width, height = f"{sheet.box.width * across:.5f}mm", f"{sheet.box.height * down:.5f}mm"
        file = f"{number}.svg"
        pictures[file] = to_svg(sheet).encode()
        says = quoted(f"{sheet.title}. {sheet.description}")
        source.append(
            f"#page(width: {width}, height: {height}, margin: 0mm, image({quoted(file)}, "
            f'width: {width}, height: {height}, fit: "stretch", alt: {says}))'
        )
    return typeset("\n".join(source), pictures)
