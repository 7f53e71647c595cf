"""The kit on paper: what to buy, how to cut it, labels to cut apart."""

from collections.abc import Iterable, Iterator, Sequence

from paramgen.booklet.word_setting import fraction_parts
from paramgen.drawings.back_end.svg import to_svg
from paramgen.kits.cloth_on_mats import ClothOnMats
from paramgen.kits.cutting_picture import cutting_pictures, scale_of
from paramgen.kits.cutting_plan import SheetPlan
from paramgen.kits.kit_shopping import proof_words, shopping
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
from paramgen.kits.mat_pictures import mat_picture, mat_scale
from paramgen.kits.mat_words import (
    BEFORE_MATS,
    MAT_CARE,
    mat_rows,
    mats_title,
    mats_words,
    sheet_words,
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


def kit_pdf(kit: Kit, paper: Paper) -> bytes:
    """Set a kit as a PDF.

    Raises
    ------
    LettersError
        If no font here has all its letters.
    """
    files: dict[str, bytes] = {}
    return typeset("\n".join(_source(kit, paper, files)), files)


def _source(kit: Kit, paper: Paper, files: dict[str, bytes]) -> Iterator[str]:
    title = f"Kit: {kit.title}"
    foot = f"#text(size: 8pt)[{_words(title)} #h(1fr) #context counter(page).display()]"
    yield f"#set document(title: {quoted(title)})"
    yield (
        f"#set page(width: {paper.width}mm, height: {paper.height or paper.width}mm, "
        f"margin: {_MARGIN}mm, footer-descent: 4mm, footer: [{foot}])"
    )
    yield f"{_HEAD}\n#title()\n= What to buy"
    rows = [(one.what, one.kind, one.buy, one.exact, one.note) for one in shopping(kit)]
    head = ("What", "Kind", "Buy", "Exact length", "Note")
    yield _table(head, rows, "(3fr, 4fr, 5fr, 4fr, 5fr)")
    yield "= How to cut it"
    yield from (f"{_words(one)}\n" for one in BEFORE_CUTTING)
    yield f"#care[{_words(ROTARY_CARE)}]"
    width = paper.width - 2 * _MARGIN
    for place, plan in enumerate(kit.sheets, 1):
        yield from _plan(plan, kit, f"cloth-{place}", width, files)
    if kit.on_mats:
        yield "= On the mats of the cutting machine"
        yield from (f"{_words(one)}\n" for one in BEFORE_MATS)
        yield f"#care[{_words(MAT_CARE)}]"
        for place, laid in enumerate(kit.on_mats, 1):
            yield from _mats(laid, kit, f"mats-{place}", width, files)
    yield "#pagebreak()\n= A label for each bag"
    labels = ", ".join(f"bag[{_label(one)}]" for one in bags(kit))
    yield f"#grid(columns: (1fr, 1fr), gutter: 4mm, {labels})"


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


def _mats(
    laid: ClothOnMats, kit: Kit, name: str, width: float, files: dict[str, bytes]
) -> Iterator[str]:
    above = f"== {_words(mats_title(laid))}\n{_words(' '.join(mats_words(laid, kit.unit)))}\n"
    for number in range(1, len(laid.plan.mats) + 1):
        drawing = mat_picture(laid, number, f"{name}-{number}")
        file = f"{drawing.name}.svg"
        files[file] = to_svg(drawing).encode()
        across = min(width, drawing.box.width / mat_scale(laid.plan.mat))
        says = quoted(f"{drawing.title}. {drawing.description}")
        said = f"{drawing.title}. {sheet_words(laid, number, kit.unit)}"
        rows = [(k, title, size, str(n)) for k, title, size, n in mat_rows(laid, number, kit.unit)]
        head = ("Letter", "Piece", "Cut, width × height", "How many")
        yield (
            f"#block(breakable: false, below: 1.6em)[{above}#image({quoted(file)}, "
            f"width: {across:.3f}mm, alt: {says})\n#text(size: 8.5pt)[{_words(said)}]\n"
            f"{_table(head, rows, '(1fr, 4fr, 6fr, 1.5fr)')}]"
        )
        above = ""
    if above:
        yield above


def _label(one: BagLabel) -> str:
    rows = "".join(f"\n- {_words(row)}" for row in one.rows)
    return f"*{_words(one.title)}* \\ {_words(one.number)}{rows}"


def _table(head: Sequence[str], rows: Iterable[Sequence[str | None]], columns: str) -> str:
    """A table; None is a box to tick."""
    cells = "".join(
        "[#tick], " if cell is None else f"[{_words(cell)}], " for row in rows for cell in row
    )
    names = ", ".join(f"[{name}]" for name in head)
    return f"#table(columns: {columns}, table.header({names}), {cells})"


def _words(words: str) -> str:
    """Any words as markup, the fractions in them set as fractions."""
    return "".join(
        f"#fr({quoted(part)})" if fraction else f"#{quoted(part)};"
        for part, fraction in fraction_parts(unbroken(words))
    )
