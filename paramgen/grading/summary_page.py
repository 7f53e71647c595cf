"""The summary as one page of HTML that needs nothing else."""

from collections.abc import Callable, Iterable, Iterator
from html import escape
from urllib.parse import quote

from paramgen.booklet.word_setting import fraction_parts
from paramgen.grading.summary_entry import RowRemark, SummaryEntry
from paramgen.grading.summary_sheet import (
    GradedRow,
    asked_words,
    fabric_words,
    ready_words,
    said_words,
)
from paramgen.grading.totals import SupplyTotal, totals
from paramgen.lengths import show_size, show_size_both, unbroken
from paramgen.sentences import number_of
from paramgen.vocabulary.unit import Unit

_STYLE = """
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0 auto;padding:1rem;max-width:76rem;background:#fff;color:#1a1f24;
font:1rem/1.5 system-ui,sans-serif;overflow-wrap:break-word}
th,figcaption,.cannot{overflow-wrap:anywhere}.rows tbody th{min-width:10rem}
.fr{font-variant-numeric:diagonal-fractions}
h1{font-size:1.75rem;line-height:1.2;margin:.5rem 0}
h2{font-size:1.35rem;margin:2.5rem 0 .75rem;border-bottom:2px solid #1a1f24}
a{color:#0b4f8a}
p,ul{margin:.4rem 0}
th .about{font-weight:400}.about{color:#495057}
.cannot{border-left:.4rem solid #a11212;padding:.2rem .6rem;margin:.8rem 0;background:#fdf3f2}
.cannot ul{padding-left:1.2rem}
.bars{display:flex;flex-wrap:wrap;gap:.3rem 1.5rem;align-items:center;margin:.6rem 0}
.bar{display:inline-block;height:.7rem;border:2px solid #1a1f24;border-top:0;
vertical-align:baseline;margin-right:.5rem}
.five{width:calc(var(--mm)*50)}.two{width:calc(var(--mm)*50.8)}
.things{display:flex;flex-wrap:wrap;gap:1.2rem 1rem;align-items:baseline}
figure{margin:0;max-width:100%}
figure svg{display:inline-block;width:100%;height:auto}
figcaption{font-size:.9rem;line-height:1.35;padding-top:.3rem}
table{border-collapse:collapse;width:100%;font-size:.95rem}
th,td{text-align:left;vertical-align:top;padding:.35rem .8rem .35rem 0;
border-bottom:1px solid #868e96}
td ul{list-style:none;padding:0;margin:0}
td li+li{margin-top:.2rem}td[data-of="have ready"]{min-width:11rem}
td[data-of="fabric"]{min-width:9rem}
.number{text-align:right;white-space:nowrap}
@media (max-width:70rem){
.rows thead{position:absolute;clip-path:inset(50%);width:1px;height:1px;overflow:hidden}
.rows tr{display:block;border-bottom:1px solid #868e96;padding:.5rem 0}
.rows td,.rows th{display:block;border:0;padding:.1rem 0}.rows .number{text-align:left}
.rows td[data-of]::before{content:attr(data-of)": ";color:#495057}td ul{display:inline}}
@media print{body{max-width:none;padding:0;font-size:9.5pt}
figure,tr,.cannot{break-inside:avoid}h2{break-after:avoid}a{color:inherit;text-decoration:none}
*{print-color-adjust:exact;-webkit-print-color-adjust:exact}}
@page{margin:12mm}
"""
#: What a file of ours starts with.
PAGE_MARK = (
    b'<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
    b'<meta name="generator" content="paramgen">\n'
)

# Pixels that the widest and the tallest picture may take on a wide screen, and most a mm.
_WIDEST, _TALLEST, _MOST = 240.0, 300.0, 3.0
# Percent of a narrow screen that the widest picture may take: two stand side by side.
_NARROW = 42.0


def page(
    source: str,
    views: Iterable[tuple[float, float]],
    again: Callable[[], Iterable[GradedRow]],
    counts: tuple[int, int],
) -> Iterator[str]:
    """Write the summary, piece by piece.

    Parameters
    ----------
    source : str
        Name of the table.
    views : iterable of (width, height)
        Of the pictures, mm; all are shown at one scale.
    again : callable
        Gives the rows in the order of the table, each time anew: no more than one is held.
    counts : (int, int)
        Rows made and not made.

    Yields
    ------
    str
        To be saved as UTF-8. It asks for nothing from outside.
    """
    made, not_made = counts
    yield PAGE_MARK.decode()
    # No browser may fetch anything for it, whatever a title holds.
    yield '<meta http-equiv="Content-Security-Policy" content="default-src \'none\'; '
    yield "style-src 'unsafe-inline'; img-src data:\">\n"
    yield '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
    yield '<link rel="icon" href="data:,">\n'
    title = f"Graded: {source}"
    yield f"<title>{escape(title)}</title>\n"
    yield f"<style>{_STYLE}:root{{--mm:{_scale(views)}}}\n</style>\n"
    yield f"</head>\n<body>\n<header>\n<h1>{escape(title)}</h1>\n<p>{_count(made, not_made)}</p>\n"
    yield "</header>\n<main>\n"
    if not_made:
        yield _section("not-made", "Not made")
        yield from (_refused(one) for one in again() if one.entry is None)
        yield "</section>\n"
    if made:
        yield _section("side-by-side", "Side by side")
        yield '<p class="about">The finished things, open and flat, all at one scale.</p>\n'
        yield '<div class="bars"><span><span class="bar five"></span>5 cm</span>'
        yield '<span><span class="bar two"></span>2 in</span></div>\n<div class="things">\n'
        yield from (_figure(one, one.entry) for one in again() if one.entry)
        yield "</div>\n</section>\n"
        yield _section("rows", "Row by row")
        yield _HEAD
        yield from (_row(one, one.entry) for one in again() if one.entry)
        yield f"</tbody></table>\n{_NOTE}</section>\n"
    if made > 1:
        yield _section("all-rows", "To have for all rows")
        yield _ALL
        yield from (_total(one) for one in totals(one.entry for one in again() if one.entry))
        yield f"</tbody></table>\n{_ALL_NOTE}</section>\n"
    yield "</main>\n</body>\n</html>\n"


_HEAD = (
    '<table class="rows"><thead><tr><th scope="col">Name</th><th scope="col">Finished</th>'
    '<th scope="col">Hoop</th><th scope="col">Fabric</th><th scope="col">Have ready</th>'
    '<th scope="col" class="number">Stitches</th><th scope="col">Found</th></tr></thead>\n<tbody>\n'
)
_NOTE = (
    '<p class="about">Sizes are width × height. Fabric is an estimate for one hooping of each: the '
    "length to have of a usable width of 1 m, or of 40 in where the row is in inches, nothing "
    "added for shrinking or for matching a print. Not tried on a machine: make a test piece from "
    "scraps, and follow the manual of yours.</p>\n"
)


_ALL = (
    '<table><thead><tr><th scope="col">What</th><th scope="col">How much</th>'
    '<th scope="col" class="number">Rows</th></tr></thead>\n<tbody>\n'
)
_ALL_NOTE = (
    '<p class="about">For one hooping of each row. A fabric is the sum of what each row takes by '
    "itself: cut together the rows may take less.</p>\n"
)


def _total(one: SupplyTotal) -> str:
    return (
        f'<tr><th scope="row">{_words(one.title)}</th><td data-of="how much">{_words(one.amount)}'
        f'</td><td data-of="rows" class="number">{one.rows}</td></tr>\n'
    )


def _scale(views: Iterable[tuple[float, float]]) -> str:
    """Length of a millimetre of the pictures, on any screen."""
    wide, high = 1.0, 1.0
    for width, height in views:
        wide, high = max(wide, width), max(high, height)
    most = min(_MOST, _WIDEST / wide, _TALLEST / high)
    return f"min({most:.4f}px,{_NARROW / wide:.4f}vw)"


def _count(made: int, not_made: int) -> str:
    rows = number_of(made + not_made, "row")
    if not not_made:
        return f"{rows}, all made."
    return f"{rows}: {made} made, {not_made} not made."


def _section(name: str, title: str) -> str:
    return f'<section aria-labelledby="{name}">\n<h2 id="{name}">{title}</h2>\n'


def _words(words: str) -> str:
    return "".join(
        f'<span class="fr">{escape(part)}</span>' if fraction else escape(part)
        for part, fraction in fraction_parts(unbroken(words))
    )


def _refused(one: GradedRow) -> str:
    row = one.row
    said = ", ".join(part for part in (row.recipe, asked_words(row), row.hoop) if part)
    return (
        f'<div class="cannot"><strong>{escape(row.title)}</strong> '
        f'<span class="about">row {row.number}: {_words(said)}</span>{_list(one.reasons)}</div>\n'
    )


def _figure(one: GradedRow, entry: SummaryEntry) -> str:
    first, other = (
        show_size(*entry.finished, unit, depth=entry.depth) for unit in _units(entry.unit)
    )
    wide = f"calc(var(--mm)*{entry.view[0]:.3f})"
    return (
        f'<figure id="picture-{one.row.folder}" style="width:max({wide},9rem)">'
        f'<div style="width:{wide}">{entry.picture.strip()}</div><figcaption>'
        f'<a href="#row-{one.row.folder}">{escape(one.row.title)}</a><br>{_words(first)}<br>'
        f"({_words(other)})</figcaption></figure>\n"
    )


def _units(first: Unit) -> tuple[Unit, Unit]:
    return (Unit.MM, Unit.INCH) if first is Unit.MM else (Unit.INCH, Unit.MM)


def _row(one: GradedRow, entry: SummaryEntry) -> str:
    row, unit = one.row, entry.unit
    link = quote(f"{row.folder}/{entry.read_first}")
    asked = asked_words(row)
    cells = (
        ("finished", _words(show_size_both(*entry.finished, unit, depth=entry.depth))),
        ("hoop", _hoop(entry)),
        ("fabric", _items(fabric_words(one, unit) for one in entry.fabrics)),
        (
            "have ready",
            _items(ready_words(one, unit) for one in entry.ready if one.sort != "thread"),
        ),
    )
    said = "".join(
        f'<td data-of="{name}">{words}</td>' if words else "<td></td>" for name, words in cells
    )
    stops = number_of(entry.stops, "stop")
    return (
        f'<tr id="row-{row.folder}"><th scope="row"><a href="{link}">{escape(row.title)}</a>'
        f'<div class="about">{_words(entry.title)}{", " if asked else ""}{_words(asked)}</div></th>'
        f'{said}<td data-of="stitches" class="number">{entry.stitches} in {stops}</td>'
        f"<td>{_list(entry.found)}</td></tr>\n"
    )


def _hoop(entry: SummaryEntry) -> str:
    turned = ", lying turned by 90°" if entry.turned else ""
    turned += f", {entry.copies} copies at once" if entry.copies > 1 else ""
    return _words(f"{entry.hoop}, field {show_size_both(*entry.field, entry.unit)}{turned}")


def _items(words: Iterable[str]) -> str:
    items = "".join(f"<li>{_words(one)}</li>" for one in words)
    return f"<ul>{items}</ul>" if items else ""


def _list(said: Iterable[RowRemark]) -> str:
    return _items(map(said_words, said))
