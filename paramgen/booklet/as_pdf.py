"""The booklet on paper, and the steps on a page or two."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import field
from itertools import groupby

from paramgen.booklet.booklet_length import BookletLength
from paramgen.booklet.cautions import Caution
from paramgen.booklet.fold_diagrams import WIDTH as FOLDING_WIDTH
from paramgen.booklet.lettered_pictures import LetteredPicture, LetterKey
from paramgen.booklet.said import Booklet, JoinedSteps, Need, Notice, PieceFolding, StepBlock
from paramgen.booklet.word_setting import (
    CUT_SIZES,
    DISAPPOINTS,
    FOLDING,
    KNOW,
    capital,
    fraction_parts,
)
from paramgen.drawings.primitives.lettering import BOLD, wrapped
from paramgen.lengths import INCH, unbroken
from paramgen.papers.printing import Printing
from paramgen.papers.typeset import quoted, typeset
from paramgen.reference.paper_sizes import Paper
from paramgen.vocabulary.frozen_data import dataclass

# A cut list of no more rows is not broken.
_MOST_WHOLE = 16
# Nor is a table of what to have.
_MOST_NEEDS = 8
# Nor is what the pictures are drawn with.
_MOST_SAMPLES = 30
# Nor is a table of what may go wrong, if it has no more rows, or the page for notes, where a page
# is as high as this within its margins, mm.
_MOST_TROUBLES, _TALL = 8, 200.0
# Within its margins a page takes two cells side by side if it is as wide as this, mm.
_WIDE = 150.0
#: Larger papers, and rolls, are for templates and not for reading, mm.
LARGEST = 300.0


@dataclass(frozen=True, kw_only=True)
class _Setting:
    """How closely a booklet is set.

    Parameters
    ----------
    margin : float
        Of a page, mm, unless the printer needs more.
    letters : float
        Size of running text, points; what stands out is larger in proportion.
    column : float
        Width of the pictures' column beside words, mm.
    between : float
        Room over and under a step, mm.
    lines : int
        Left for notes.
    close : bool
        Whether short lines are run together.
    """

    margin: float
    letters: float
    column: float
    between: float
    lines: int
    close: bool


_SETTINGS = {
    BookletLength.FULL: _Setting(
        margin=14.0, letters=10.0, column=78.0, between=4.0, lines=7, close=False
    ),
    BookletLength.SHORT: _Setting(
        margin=12.0, letters=9.0, column=36.0, between=1.2, lines=3, close=True
    ),
}

_HEAD = """
#set text(lang: "en", fill: rgb("#1a1f24"))
#set par(leading: 0.55em, spacing: 0.7em)
#set list(indent: 0pt, body-indent: 0.4em, spacing: 0.5em)
#set enum(indent: 0pt, body-indent: 0.4em, spacing: 0.5em)
#show title: set text(size: 2.4 * base)
#show heading: set block(sticky: true)
#show heading.where(level: 1): set text(size: 1.6 * base)
#show heading.where(level: 1): set block(above: 1.4em, below: 0.8em)
#show heading.where(level: 2): set text(size: 1.15 * base)
#show heading.where(level: 2): set block(above: 1.1em, below: 0.6em)
#set table(stroke: (x, y) => (bottom: 0.5pt + rgb("#868e96")), inset: (x: 0pt, y: 4pt),
  column-gutter: 8pt, align: left + top)
#show table.cell.where(y: 0): set text(weight: "bold")
#show regex("(g|oz)/(m²|yd²)"): box
#let fr(it) = text(fractions: true, it)
#let grey(it) = text(fill: rgb("#495057"), it)
#let tick = box(width: 3.6mm, height: 3.6mm, stroke: 0.8pt, baseline: 0.6mm)
#let ring(it) = box(width: 4mm, height: 4mm, radius: 2mm, stroke: 0.7pt, baseline: 0.8mm,
  align(center + horizon, text(size: 7.5pt, weight: "bold", it)))
#let keys(letters, ..items) = enum(numbering: n => ring(letters.at(n - 1)), body-indent: 1.5mm,
  spacing: 1.6mm, ..items)
#let caution(it) = block(breakable: false, width: 100%, fill: rgb("#fdf3f2"),
  stroke: (left: 3pt + rgb("#a11212")), inset: (left: 7pt, rest: 4pt), it)
#let disappoints(it) = block(width: 100%, fill: rgb("#fdf3f2"), stroke: 1.5pt + rgb("#a11212"),
  inset: 6pt, above: 3mm, below: 3mm, it)
#let step(column, colour, picture, words) = block(breakable: false, width: 100%,
  above: between, below: between, inset: (left: 3mm, top: 0.6 * between, bottom: 1mm),
  stroke: (top: 0.5pt + rgb("#868e96"),
  left: if colour == none { none } else { 4pt + colour }),
  grid(columns: (column, 1fr), column-gutter: 5mm, picture, words))
"""

# What stands closer in the short form.
_CLOSE = """
#set par(leading: 0.5em, spacing: 0.5em)
#show heading.where(level: 1): set block(above: 1.1em, below: 0.6em)
#show heading.where(level: 2): set block(above: 0.7em, below: 0.45em)
#set table(inset: (x: 0pt, y: 2.5pt))
#let ring(it) = box(width: 3.3mm, height: 3.3mm, radius: 1.65mm, stroke: 0.6pt, baseline: 0.6mm,
  align(center + horizon, text(size: 6.5pt, weight: "bold", it)))
#let caution(it) = block(breakable: false, width: 100%, fill: rgb("#fdf3f2"), above: 1.2mm,
  below: 1.2mm, stroke: (left: 3pt + rgb("#a11212")), inset: (left: 6pt, rest: 2pt), it)
"""


@dataclass
class _Files:
    """Pictures of a paper by the name under which its source asks for them.

    Parameters
    ----------
    width, height : float
        Room within the margins of a page, mm.
    setting : _Setting
    """

    width: float
    height: float
    setting: _Setting = _SETTINGS[BookletLength.FULL]
    by_name: dict[str, bytes] = field(default_factory=dict)

    @property
    def column(self) -> float:
        """Width of the pictures' column beside words, mm."""
        return min(self.setting.column, 0.45 * self.width)

    def image(
        self,
        picture: LetteredPicture,
        width: float = math.inf,
        height: float = math.inf,
        grown: float = 1.0,
    ) -> str:
        """Markup that sets a picture so many times its size, or smaller to fit a room, mm."""
        name = f"{picture.name}.svg"
        self.by_name[name] = picture.svg.encode()
        room = min(width, self.width) / picture.width, min(height, self.height) / picture.height
        wide = picture.width * min(grown, *room)
        return f"image({quoted(name)}, width: {wide:.3f}mm, alt: {quoted(picture.says)})"


def paper_for(printing: Printing, usual: Paper) -> Paper:
    """Paper to read from: the one asked for, unless it is a roll or a sheet for plotters."""
    paper = printing.paper
    return usual if paper.height is None or paper.width > LARGEST else paper


def to_pdf(booklet: Booklet, paper: Paper, margin: float) -> bytes:
    """Set a booklet on paper, tagged so that a screen reader can follow.

    Parameters
    ----------
    booklet : Booklet
    paper : Paper
        A sheet.
    margin : float
        Least margin, mm.
    """
    setting = _SETTINGS[booklet.form]
    margin = max(margin, setting.margin)
    files = _Files(paper.width - 2 * margin, (paper.height or paper.width) - 2 * margin, setting)
    sizes = (
        f"#let base = {setting.letters}pt\n#set text(size: base)\n"
        f"#let between = {setting.between}mm"
    )
    head = [sizes, _HEAD, _page(booklet.title, paper, margin), *([_CLOSE] if setting.close else [])]
    source = [*head, *_book(booklet, files)]
    return typeset("\n".join(source), files.by_name)


def _page(title: str, paper: Paper, margin: float) -> str:
    footer = f"#text(size: 8pt)[{_words(title)} #h(1fr) #context counter(page).display()]"
    return (
        f"#set document(title: {quoted(title)})\n"
        f"#set page(width: {paper.width}mm, height: {paper.height or paper.width}mm, "
        f"margin: {margin}mm, footer-descent: 4mm, footer: [{footer}])"
    )


def _words(words: str) -> str:
    """Any words as markup, the fractions in them set as fractions."""
    return "".join(
        f"#fr({quoted(part)})" if fraction else f"#{quoted(part)};"
        for part, fraction in fraction_parts(unbroken(words))
    )


def _book(booklet: Booklet, files: _Files) -> Iterator[str]:
    yield from _cover(booklet, files)
    yield "= What you need"
    yield _need_table("Fabrics, before the hooping", booklet.fabrics, ("What", "How much", "More"))
    yield f"\n{_words(booklet.estimate)}\n"
    head = ("What", "How much", "More", "First needed")
    yield _need_table("All else, in the order in which you first need it", booklet.besides, head)
    yield _need_table("Needles", booklet.needles, ("What", "Which", "More"))
    yield f"\n{_words(booklet.thread_note)}\n"
    cut = "\n".join(["= Cut list", *map(_caution, booklet.cut_cautions), _cut_list(booklet)])
    breaks = "true" if len(booklet.cut) > _MOST_WHOLE else "false"
    yield f"#block(breakable: {breaks}, above: 6mm)[\n{cut}\n]"
    if booklet.folding:
        yield from _foldings(booklet, files)
    yield "= Take care"
    yield _side_by_side([_caution(one) for one in booklet.cautions], files, gap=1.2)
    reading = "\n\n".join(_words(one) for one in booklet.reading)
    yield (
        f"#block(breakable: {_parted(booklet)}, above: 6mm)[\n= How to read the pictures\n"
        f"{reading}\n\n{_samples(booklet, files)}\n]"
    )
    whole = f"= Every stitched line\n{_beside(booklet.whole, files)}"
    yield f"#block(breakable: false, above: 6mm)[\n{whole}\n]"
    yield "= The steps"
    yield from (_step(one, files) for one in booklet.steps)
    if booklet.finishing:
        yield "= Finishing"
        yield from (_step(one, files) for one in booklet.finishing)
    wrong = _table(
        ("What", "How to see it", "What helps"),
        ((one.what, one.see, one.do) for one in booklet.troubles),
        "(1fr, 1fr, 1fr)",
    )
    tall = files.height >= _TALL
    count = len(booklet.troubles) + len(booklet.worth_knowing)
    breaks = "false" if tall and count <= _MOST_TROUBLES else "true"
    know = ""
    if booklet.worth_knowing:
        said = "\n\n".join(map(_notice, booklet.worth_knowing))
        know = f"== {KNOW}\n{said}\n\n"
    yield f"#block(breakable: {breaks}, above: 6mm)[\n= What may go wrong\n{know}{wrong}\n]"
    close = files.setting.close
    room, line = ("2mm", "7mm") if close else ("5mm", "8mm")
    rows = "".join(f"[*{_words(one)}*], [#v({room})], " for one in booklet.record)
    columns = "auto, 1fr, auto, 1fr" if close else "1fr, 2fr"
    if not tall:
        yield "#pagebreak(weak: true)"
    breaks = "false" if tall else "true"
    yield (
        f"#block(breakable: {breaks}, above: 6mm, width: 100%)[\n= Test-sew and notes\n"
        "Sew one from scraps first and write down what you find.\n"
        f"#table(columns: ({columns}), {rows})\n== Notes\n"
        f"#for _ in range({files.setting.lines}) "
        f"{{ block(height: {line}, width: 100%, stroke: (bottom: 0.5pt)) }}\n]"
    )


def _cover(booklet: Booklet, files: _Files) -> Iterator[str]:
    yield "#title()\n"
    yield f"#text(size: 11pt)[{_words(booklet.summary)}]\n"
    yield from _disappoints(booklet.disappoints)
    rows = "".join(f"[*{_words(name)}*], [{_words(says)}], " for name, says in booklet.facts)
    facts = f"#table(columns: (auto, 1fr), {rows})"
    first, *others = booklet.finished
    if not files.setting.close:
        yield facts
        yield f"#align(center, {files.image(first)})"
        yield from _explained(first)
        yield "= The finished thing"
        yield from (_beside(picture, files) for picture in others)
        return
    yield _side_by_side([facts, _over(first, files)], files)
    yield "= The finished thing"
    # Sections are wide, and stand by themselves.
    wide = [one for one in others if one.width > files.width / 3]
    narrow = [one for one in others if one not in wide]
    yield _side_by_side(
        ["\n\n".join(_over(one, files) for one in run) for run in _in_columns(narrow, 3)], files, 3
    )
    yield _side_by_side([_over(one, files) for one in wide], files, 2)


def _in_columns(pictures: Sequence[LetteredPicture], count: int) -> list[list[LetteredPicture]]:
    """One picture to a column, and each one more under those of the column that is shortest."""
    columns = [[one] for one in pictures[:count]]
    for one in pictures[count:]:
        min(columns, key=lambda run: sum(each.height for each in run)).append(one)
    return columns


def _disappoints(notices: Sequence[Notice]) -> Iterator[str]:
    """Set what will disappoint in a box of its own, before all else."""
    if notices:
        said = "\n\n".join(map(_notice, notices))
        yield f"#disappoints[\n*{DISAPPOINTS}*\n\n{said}\n]"


def _notice(notice: Notice) -> str:
    return f"*{_words(notice.what)}* {_words(notice.more)}"


def _side_by_side(cells: Sequence[str], files: _Files, columns: int = 2, gap: float = 4.0) -> str:
    """Set cells in rows, where a booklet is closely set and its page is wide enough."""
    if not files.setting.close or files.width < _WIDE:
        return "\n\n".join(cells)
    inside = "".join(f"[\n{cell}\n], " for cell in cells)
    gutters = f"column-gutter: 5mm, row-gutter: {gap}mm"
    return f"#grid(columns: (1fr,) * {columns}, {gutters}, {inside})"


def _over(picture: LetteredPicture, files: _Files) -> str:
    """Set a picture over its words."""
    words = "\n".join(_explained(picture, close=True))
    return f"#block(breakable: false)[\n#{files.image(picture)}\n\n{words}\n]"


def _beside(picture: LetteredPicture, files: _Files) -> str:
    """Set a picture with its words beside it."""
    column = max(files.column, min(picture.width, 0.62 * files.width))
    words, image = "\n".join(_explained(picture)), files.image(picture, column)
    grid = f"grid(columns: ({column:.3f}mm, 1fr), column-gutter: 5mm, {image}, [\n{words}\n])"
    return f"#block(breakable: false, above: 5mm, {grid})"


def _explained(picture: LetteredPicture, *, close: bool = False) -> Iterator[str]:
    if picture.title:
        yield f"*{_words(picture.title)}*\n"
    if picture.note:
        yield f"{_words(picture.note)}\n"
    yield _key(picture, close=close)


def _key(picture: LetteredPicture, *, close: bool = False) -> str:
    """List what the letters in a picture stand for, each in its ring as it is there.

    Set closely they stand one after the other, else each that says more has a line of its own.
    """
    if not picture.key:
        return ""
    if close:
        runs = (
            f"{_with_ring(one)}{', ' if one.says else ''}{_words(one.says)}" for one in picture.key
        )
        return f"#block(above: 1.6mm, below: 1.6mm)[{' #h(2mm) '.join(runs)}]"
    return "\n".join(
        _named(list(run)) if short else _keys(list(run))
        for short, run in groupby(picture.key, key=lambda one: not one.says)
    )


def _with_ring(key: LetterKey) -> str:
    """Set a letter and its title, the first word of it on the same line as the letter."""
    first, _, rest = key.title.partition(" ")
    more = f" *{_words(rest)}*" if rest else ""
    return f"#box[#ring({quoted(key.letter)}) #h(0.3mm) *{_words(first)}*]{more}"


def _named(run: Sequence[LetterKey]) -> str:
    """Set letters that stand for a name alone one after the other."""
    names = " #h(2mm) ".join(
        f"#box[#ring({quoted(one.letter)}) #h(1mm) *{_words(one.title)}*]" for one in run
    )
    return f"#block(above: 1.6mm, below: 1.6mm)[{names}]"


def _keys(run: Sequence[LetterKey]) -> str:
    letters = "".join(f"{quoted(one.letter)}, " for one in run)
    items = "".join(f"[*{_words(one.title)}*, {_words(one.says)}], " for one in run)
    return f"#keys(({letters}), {items})"


def _foldings(booklet: Booklet, files: _Files) -> Iterator[str]:
    """Set how pieces are folded, side by side as many as there is room for."""
    columns = max(1, int((files.width + 6.0) // (FOLDING_WIDTH + 6.0)))
    rows = [booklet.folding[i : i + columns] for i in range(0, len(booklet.folding), columns)]
    for place, row in enumerate(rows):
        cautions = map(_caution, booklet.fold_cautions)
        head = "" if place else "\n".join([f"= {FOLDING}", *cautions])
        cells = "".join(f"[\n{_folding(one, files)}\n], " for one in row)
        grid = f"#grid(columns: (1fr,) * {columns}, column-gutter: 6mm, {cells})"
        yield f"#block(breakable: false, above: 5mm)[\n{head}\n{grid}\n]"


def _folding(folding: PieceFolding, files: _Files) -> str:
    moves = "\n".join(f"+ {_words(move)}" for move in folding.moves)
    when = f"{_words(folding.when)}\n" if folding.when else ""
    head = f"== {_words(capital(folding.title))}\n{when}"
    return f"{head}{moves}\n\n#{files.image(folding.picture)}"


def _caution(caution: Caution) -> str:
    return f"#caution[*{_words(caution.title)}.* {_words(caution.says)}]"


def _need_table(title: str, needs: Sequence[Need], head: Sequence[str]) -> str:
    """Set what to have in as many columns as the head has."""
    rows = [(one.what, one.amount, one.note, one.first)[: len(head)] for one in needs]
    columns = {3: "(2fr, 3fr, 4fr)", 4: "(5fr, 5fr, 9fr, 3fr)"}[len(head)]
    breaks = "true" if len(rows) > _MOST_NEEDS else "false"
    return f"#block(breakable: {breaks}, above: 4mm)[\n== {title}\n{_table(head, rows, columns)}\n]"


def _table(head: Sequence[str], rows: Iterable[Sequence[str]], columns: str) -> str:
    cells = "".join(f"[{_words(cell)}], " for row in rows for cell in row)
    names = ", ".join(f"[{name}]" for name in head)
    return f"#table(columns: {columns}, table.header({names}), {cells})"


def _cut_list(booklet: Booklet) -> str:
    cells = "".join(
        f"[{row.quantity} × {_words(row.title)}], [{_words(row.fabric)}], [{_words(row.cut)}], "
        f"[{_words(row.folded or 'not folded')}], [{'#tick #h(1mm) ' * row.quantity}], "
        for row in booklet.cut
    )
    head = "[Piece], [Fabric], [Cut], [Folded], [Done]"
    return f"#table(columns: (3fr, 2fr, 5fr, 5fr, 2fr), table.header({head}), {cells})\n{CUT_SIZES}"


def _parted(booklet: Booklet) -> str:
    """Whether what the pictures are drawn with may go on on the next page."""
    close = _SETTINGS[booklet.form].close
    return "true" if close or len(booklet.samples) > _MOST_SAMPLES else "false"


def _samples(booklet: Booklet, files: _Files) -> str:
    close = files.setting.close
    cells = "".join(
        f"{files.image(one.picture, 9.0 if close else 10.0)}, [{_words(one.means)}], "
        for one in booklet.samples
    )
    columns, gap = (4, 1.2) if close and files.width >= _WIDE else (3, 2.0)
    return (
        f"#block(breakable: {_parted(booklet)}, grid(columns: (11mm, 1fr) * {columns}, "
        f"row-gutter: {gap}mm, column-gutter: 2mm, align: left + horizon, {cells}))"
    )


def _step(steps: JoinedSteps, files: _Files) -> str:
    """Set the steps of a block, beside their picture."""
    colours = [one.colour for one in steps.blocks if one.colour]
    colour = f"rgb({quoted(colours[0])})" if colours else "none"
    close = files.setting.close
    parts: list[str] = []
    for block in steps.blocks:
        number = block.number_words + (f", {block.colour_name}" if block.colour else "")
        broken = "#h(1.5mm)" if close else "#linebreak()"
        parts += [
            f"== #grey[{_words(number)}] {broken} {_words(block.title)}",
            " ".join([_words(block.say), *(f"*{_words(one)}*" for one in block.notes)]),
            *map(_caution, steps.cautions(block)),
        ]
    parts += [_key(steps.picture, close=close), ""]
    about = f"#text(size: 0.9em)[#grey[{_words(steps.about)}]]"
    if close:
        look = f"*Look for* #h(1mm) {_words(' '.join(steps.look))} #h(1mm)" if steps.look else ""
        parts.append(f"{look} {about}")
    else:
        if steps.look:
            parts += ["#v(0.5mm)", "*Look for*", *(f"- {_words(one)}" for one in steps.look)]
        parts += ["", about]
    body = "\n".join(parts)
    column = files.column
    if files.width >= _WIDE:  # a picture with many letters may be wider
        column = max(column, min(steps.picture.width, 0.5 * files.width))
    image = files.image(steps.picture, column)
    return f"#step({column:.3f}mm, {colour}, {image}, [\n{body}\n])"


# --- The steps on one page -------------------------------------------------------------------

# Least size of its letters, points.
_SMALLEST = 6.0
_POINT = INCH / 72
# Height of what stands above the steps, and room between two of them, mm.
_INTRO, _GAP = 17.0, 3.0
# Size of letters of what will disappoint, points; a line of it, and what its box takes besides, mm.
_BOX_LETTERS = 8.0
_BOX_LINE, _BOX_EDGES = 1.25 * _BOX_LETTERS * _POINT, 7.0
# Where one page would show pictures smaller than so much of their size, two are taken.
_LEAST_SEEN = 0.75
# Pictures grow by no more where there is room.
_MOST_GROWN = 1.8


def to_strip(booklet: Booklet, paper: Paper, margin: float) -> bytes:
    """Set the steps on one page to pin to the wall, or on two where one would make them too small.

    Parameters
    ----------
    booklet : Booklet
    paper : Paper
        A sheet.
    margin : float
        Least margin, mm.
    """
    width, height = paper.width - 2 * margin, (paper.height or paper.width) - 2 * margin
    files = _Files(width, height)
    box, high = _strip_box(booklet.disappoints, width)
    room = height - _INTRO - high
    pages = [booklet.blocks]
    if _seen_large(_cells(booklet.blocks, width, room)) < _LEAST_SEEN:
        half = math.ceil(len(booklet.blocks) / 2)
        pages = [booklet.blocks[:half], booklet.blocks[half:]]
    # As large on both.
    cell = _cells(pages[0], width, room)
    facts = dict(booklet.facts)
    intro = (
        f"Finished {facts['Finished size']}. Hoop {facts['Hoop']}. A number in a frame is the stop "
        "of the machine; steps without one are done by hand."
    )
    source = [
        _sheet_of(paper, margin, f"{booklet.title}: the steps"),
        f'#set text(lang: "en", size: {cell.letters:.2f}pt, fill: rgb("#1a1f24"))',
        "#let fr(it) = text(fractions: true, it)",
        "#set par(leading: 0.35em, spacing: 0.5em)",
        "#show heading.where(level: 1): set text(size: 13pt)",
        "#show heading.where(level: 2): set text(size: 1em)",
        "#show heading.where(level: 2): set block(above: 0pt, below: 1mm)",
        f"#block(height: {_INTRO}mm)[\n= {_words(booklet.title)}\n{_words(intro)}\n]",
        box,
        "#pagebreak()".join(_strip_grid(blocks, files, cell) for blocks in pages),
    ]
    return typeset("\n".join(source), files.by_name)


def _cells(blocks: Sequence[StepBlock], width: float, height: float) -> "_Cells":
    """Room for steps in as many columns as let their pictures be largest."""
    return max((_Cells(blocks, n, width, height) for n in range(2, 13)), key=_seen_large)


def _strip_grid(blocks: Sequence[StepBlock], files: _Files, cell: "_Cells") -> str:
    cells = ", ".join(_cell(block, files, cell) for block in blocks)
    return (
        f"#grid(columns: {cell.columns}, column-gutter: {_GAP}mm, row-gutter: {_GAP}mm, {cells})\n"
    )


def _strip_box(notices: Sequence[Notice], width: float) -> tuple[str, float]:
    """What will disappoint in a box over the steps, and how high it is, mm."""
    if not notices:
        return "", 0.0
    em = _BOX_LETTERS * _POINT * BOLD
    says = [DISAPPOINTS, *(f"{one.what} {one.more}" for one in notices)]
    high = _BOX_EDGES + sum(
        len(wrapped(one, em, width - _BOX_EDGES)) * _BOX_LINE + 0.5 * _BOX_LINE for one in says
    )
    said = "".join(f"#parbreak()\n{_notice(one)}\n" for one in notices)
    return (
        f"#block(height: {high:.3f}mm)[#block(width: 100%, inset: 2mm, "
        'fill: rgb("#fdf3f2"), stroke: 1.5pt + rgb("#a11212"))[\n'
        f"#set text(size: {_BOX_LETTERS}pt)\n#set par(spacing: 0.7em)\n"
        f"*{DISAPPOINTS}*\n{said}\n]]"
    ), high


def _sheet_of(paper: Paper, margin: float, title: str) -> str:
    return (
        f"#set document(title: {quoted(title)})\n"
        f"#set page(width: {paper.width}mm, height: {paper.height or paper.width}mm, "
        f"margin: {margin}mm)\n#set block(spacing: 0pt)"
    )


@dataclass(frozen=True)
class _Cells:
    """Room for the steps in so many columns, mm."""

    blocks: Sequence[StepBlock]
    columns: int
    width: float
    height: float

    @property
    def across(self) -> float:
        return (self.width - (self.columns - 1) * _GAP) / self.columns

    @property
    def down(self) -> float:
        rows = math.ceil(len(self.blocks) / self.columns)
        return (self.height - (rows - 1) * _GAP) / rows

    @property
    def letters(self) -> float:
        """Size of letters, points."""
        return max(_SMALLEST, min(10.0, self.across / 4.0))

    @property
    def heading(self) -> float:
        """Height of number and title over a picture, the same for all."""
        em = self.letters * _POINT
        lines = max(len(wrapped(one.title, em * BOLD, self.across)) for one in self.blocks)
        return (lines + 1) * 1.2 * em + 1.8

    @property
    def picture(self) -> float:
        """Height left for a picture under its heading."""
        return self.down - self.heading - 1.0


def _seen_large(cells: _Cells) -> float:
    """How large the pictures are in such cells: so many times the size that they have."""
    wide = max(one.small.width for one in cells.blocks)
    high = max(one.small.height for one in cells.blocks)
    return min(cells.across / wide, cells.picture / high)


def _cell(block: StepBlock, files: _Files, cell: _Cells) -> str:
    image = files.image(block.small, cell.across, cell.picture, _MOST_GROWN)
    stop = ""
    if block.stop is not None:
        stop = (
            f" #h(0.6em) #box(stroke: 1.2pt + rgb({quoted(block.colour or '#000000')}), "
            f"inset: (x: 2pt), outset: (top: 2pt, bottom: 2pt))[stop {block.stop}]"
        )
    return (
        f"block(width: {cell.across:.3f}mm, height: {cell.down:.3f}mm, breakable: false)[\n"
        f"#block(height: {cell.heading:.3f}mm)[\n== {block.number}{stop} #linebreak() "
        f"#v(0.15em) {_words(block.title)}\n]\n#{image}\n]"
    )
