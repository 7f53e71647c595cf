"""The kit on paper: what to buy, how to cut it, labels to cut apart."""

from collections.abc import Iterable, Iterator, Sequence

from paramgen.booklet.word_setting import fraction_parts
from paramgen.drawings.back_end.svg import to_svg
from paramgen.kits.cutting_picture import cutting_pictures, scale_of
from paramgen.kits.cutting_plan import SheetPlan
from paramgen.kits.kit_section import KitSection, KitTable
from paramgen.kits.kit_shopping import proof_words, shopping
from paramgen.kits.kit_told import KitTold
from paramgen.kits.kit_words import (
    BEFORE_CUTTING,
    ROTARY_CARE,
    BagLabel,
    bags,
    cut_lines,
    key_rows,
    plan_title,
    taken_words,
)
from paramgen.kits.worked_kit import Kit
from paramgen.lengths import unbroken
from paramgen.papers.typeset import quoted, typeset
from paramgen.reference.paper_sizes import Paper

_HEAD = """
#set text(lang: "en", size: 9.5pt, fill: rgb("#1a1f24"))
#set par(leading: 0.55em, spacing: 0.7em)
#show title: set text(size: 20pt)
#show heading: set block(sticky: true)
#show heading.where(level: 1): set text(size: 15pt)
#show heading.where(level: 1): set block(above: 1.4em, below: 0.8em)
#show heading.where(level: 2): set text(size: 11.5pt)
#show heading.where(level: 2): set block(above: 1.4em, below: 0.6em)
#set table(stroke: (x, y) => (bottom: 0.5pt + rgb("#868e96")), inset: (x: 0pt, y: 3pt),
  column-gutter: 8pt, align: left + top)
#show table.cell.where(y: 0): set text(weight: "bold")
#let fr(it) = text(fractions: true, it)
#let tick = box(width: 3.6mm, height: 3.6mm, stroke: 0.8pt, baseline: 0.6mm)
#let care(it) = block(breakable: false, width: 100%, fill: rgb("#fdf3f2"),
  stroke: (left: 3pt + rgb("#a11212")), inset: (left: 7pt, rest: 4pt), it)
#let bag(it) = block(breakable: false, width: 100%, inset: 6pt,
  stroke: (paint: rgb("#1a1f24"), thickness: 0.7pt, dash: "dashed"), text(size: 8.5pt, it))
"""
#: Kept free for the printer, mm.
_MARGIN = 14.0


def kit_pdf(told: KitTold, paper: Paper) -> bytes:
    """Set a kit as a PDF.

    Raises
    ------
    LettersError
        If no font here has all its letters.
    """
    files: dict[str, bytes] = {}
    return typeset("\n".join(_source(told, paper, files)), files)


def _source(told: KitTold, paper: Paper, files: dict[str, bytes]) -> Iterator[str]:
    kit = told.kit
    title = f"Kit: {kit.title}"
    foot = f"#text(size: 8pt)[{_words(title)} #h(1fr) #context counter(page).display()]"
    yield f"#set document(title: {quoted(title)})"
    yield (
        f"#set page(width: {paper.width}mm, height: {paper.height or paper.width}mm, "
        f"margin: {_MARGIN}mm, footer-descent: 4mm, footer: [{foot}])"
    )
    yield f"{_HEAD}\n#title()\n= What to buy"
    rows = [(one.what, one.kind, one.buy, one.exact, one.note) for one in shopping(told)]
    head = ("What", "Kind", "Buy", "Exact length", "Note")
    yield _table(head, rows, "(3fr, 4fr, 5fr, 4fr, 5fr)")
    yield "= How to cut it"
    yield from (f"{_words(one)}\n" for one in BEFORE_CUTTING)
    yield f"#care[{_words(ROTARY_CARE)}]"
    width = paper.width - 2 * _MARGIN
    for place, plan in enumerate(kit.sheets, 1):
        yield from _plan(plan, kit, f"cloth-{place}", width, files)
    for section in told.sections:
        yield from _section(section, width, files)
    yield "#pagebreak()\n= A label for each bag"
    labels = ", ".join(f"bag[{_label(one)}]" for one in bags(kit))
    yield f"#grid(columns: (1fr, 1fr), gutter: 4mm, {labels})"


def _section(section: KitSection, width: float, files: dict[str, bytes]) -> Iterator[str]:
    yield f"= {_words(section.title)}"
    yield from (f"#block(sticky: true)[{_words(one)}]\n" for one in section.says)
    yield from map(_own_table, section.tables)
    for drawing in section.pictures:
        file = f"{drawing.name}.svg"
        files[file] = to_svg(drawing).encode()
        across = min(width, drawing.box.width / drawing.scale)
        says = quoted(f"{drawing.title}. {drawing.description}")
        yield (
            f"#block(breakable: false)[#image({quoted(file)}, width: {across:.3f}mm, alt: {says})\n"
            f"#text(size: 8.5pt)[{_words(f'{drawing.title}.')}]]"
        )


def _own_table(table: KitTable) -> str:
    columns = ", ".join(f"{width:g}fr" for width in table.widths)
    set_so = _table(table.head, table.rows, f"({columns})")
    above = f"#block(sticky: true)[*{_words(table.caption)}*]\n" if table.caption else ""
    return f"{above}{set_so}"


def _plan(
    plan: SheetPlan, kit: Kit, name: str, width: float, files: dict[str, bytes]
) -> Iterator[str]:
    proof = f" {proof_words(plan, kit.unit)}" if plan.bought else ""
    above = (
        f"== {_words(plan_title(plan, kit))}\n{_words(f'{taken_words(plan, kit.unit)}{proof}')}\n"
    )
    scale = scale_of(plan)
    for drawing in cutting_pictures(plan, kit, name):
        file = f"{drawing.name}.svg"
        files[file] = to_svg(drawing).encode()
        across = min(width, drawing.box.width / scale)
        says = quoted(f"{drawing.title}. {drawing.description}")
        yield (
            f"#block(breakable: false)[{above}#image({quoted(file)}, width: {across:.3f}mm, "
            f"alt: {says})\n#text(size: 8.5pt)[{_words(f'{drawing.title}. Crossed: left over.')}]]"
        )
        above = ""
    keys = [(k, title, size, str(many)) for k, title, size, many in key_rows(plan, kit.unit)]
    head = ("Letter", "Piece", "Cut, width × height", "How many")
    yield _table(head, keys, "(1fr, 4fr, 6fr, 1.5fr)")
    cuts = [
        (str(number), one.does, one.ruler, str(one.layers), None)
        for number, one in enumerate(cut_lines(plan, kit.unit), 1)
    ]
    yield _table(("Cut", "What", "Ruler at", "Layers", "Done"), cuts, "(1fr, 9fr, 5fr, 1fr, 1fr)")


def _label(one: BagLabel) -> str:
    rows = "".join(f"\n- {_words(row)}" for row in one.rows)
    return f"*{_words(one.title)}* \\ {_words(one.number)}{rows}"


def _table(head: Sequence[str], rows: Iterable[Sequence[str | None]], columns: str) -> str:
    """A table; None is a box to tick. The first two rows stay together, and so do the last two.

    What holds them is a first column without width, whose cells reach over as many rows.
    """
    listed = [", ".join(map(_cell, row)) for row in rows]
    held = dict(_held(len(listed)))
    cells = ", ".join(
        f"table.cell(rowspan: {held[place]}, breakable: false)[], {row}" if place in held else row
        for place, row in enumerate(listed)
    )
    names = ", ".join(f"[{name}]" for name in ("", *head))
    widths = f"(0pt, {columns.removeprefix('(')}"
    gaps = f"(0pt, {'8pt, ' * len(head)})"
    return f"#table(columns: {widths}, column-gutter: {gaps}, table.header({names}), {cells})"


def _held(rows: int) -> Iterator[tuple[int, int]]:
    """Where rows that stay together begin, and how many they are.

    >>> list(_held(3)), list(_held(6))
    ([(0, 3)], [(0, 2), (2, 1), (3, 1), (4, 2)])
    """
    if rows <= 3:
        yield 0, rows
        return
    yield 0, 2
    yield from ((place, 1) for place in range(2, rows - 2))
    yield rows - 2, 2


def _cell(cell: str | None) -> str:
    return "[#tick]" if cell is None else f"[{_words(cell)}]"


def _words(words: str) -> str:
    """Any words as markup, the fractions in them set as fractions."""
    return "".join(
        f"#fr({quoted(part)})" if fraction else f"#{quoted(part)};"
        for part, fraction in fraction_parts(unbroken(words))
    )
