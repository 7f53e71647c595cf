"""The kit as one page of HTML that needs nothing else."""

from collections.abc import Iterable, Iterator, Sequence
from html import escape

from paramgen.booklet.word_setting import fraction_parts
from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.primitives.items import Drawing
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

_STYLE = """
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0 auto;padding:1rem;max-width:62rem;background:#fff;color:#1a1f24;
font:1rem/1.5 system-ui,sans-serif;overflow-wrap:break-word}
h1{font-size:1.75rem;line-height:1.2;margin:.5rem 0}
h2{font-size:1.35rem;margin:2.5rem 0 .75rem;border-bottom:2px solid #1a1f24}
h3{font-size:1.1rem;margin:1.5rem 0 .4rem}
p{margin:.4rem 0}.about{color:#495057}
.fr sup,.fr sub{font-size:.7em;line-height:0}
table{border-collapse:collapse;width:100%;font-size:.95rem}
caption{position:sticky;left:0;max-width:100cqi;text-align:left;font-weight:700;
padding:.6rem 0 .2rem}
th,td{text-align:left;vertical-align:top;padding:.35rem .8rem .35rem 0;
border-bottom:1px solid #868e96}
.wide{overflow-x:auto;container-type:inline-size}
td.tick::before{content:"";display:inline-block;width:1em;height:1em;border:2px solid #1a1f24}
figure{margin:1rem 0}figure svg{display:block;width:100%;height:auto}
figcaption{font-size:.9rem;color:#495057}
.caution{border-left:.4rem solid #a11212;padding:.2rem .6rem;margin:.8rem 0;background:#fdf3f2}
.bags{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(18rem,100%),1fr));gap:.8rem}
.bag{border:2px dashed #1a1f24;padding:.6rem .8rem;font-size:.9rem}
.bag ul{padding-left:1.1rem;margin:.3rem 0}.bag strong{display:block}
@media (max-width:40rem){table{font-size:.85rem}th,td{padding-right:.4rem}}
@media print{body{max-width:none;padding:0;font-size:9.5pt}figure,tr,.bag{break-inside:avoid}
h2,h3,caption,tbody tr:first-child{break-after:avoid}
tbody tr:last-child{break-before:avoid}
figure svg{width:var(--wide)}.bags{grid-template-columns:1fr 1fr}
*{print-color-adjust:exact;-webkit-print-color-adjust:exact}}
@page{margin:12mm}
"""


def kit_html(told: KitTold) -> str:
    """Write a kit as one page, to be saved as UTF-8; it asks for nothing from outside."""
    return "\n".join(_page(told)) + "\n"


def _page(told: KitTold) -> Iterator[str]:
    kit = told.kit
    yield '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">'
    yield '<meta name="viewport" content="width=device-width, initial-scale=1">'
    yield '<link rel="icon" href="data:,">'
    yield f"<title>Kit: {escape(kit.title)}</title>\n<style>{_STYLE}</style>\n</head>\n<body>"
    yield f"<header>\n<h1>Kit: {_words(kit.title)}</h1>\n</header>\n<main>"
    yield '<section aria-labelledby="buy">\n<h2 id="buy">What to buy</h2>'
    rows = [(one.what, one.kind, one.buy, one.exact, one.note) for one in shopping(told)]
    yield _table(("What", "Kind", "Buy", "Exact length", "Note"), rows)
    yield '</section>\n<section aria-labelledby="cut">\n<h2 id="cut">How to cut it</h2>'
    yield from (f"<p>{_words(one)}</p>" for one in BEFORE_CUTTING)
    yield f'<div class="caution"><p>{_words(ROTARY_CARE)}</p></div>'
    for place, plan in enumerate(kit.sheets, 1):
        yield from _plan(plan, kit, f"cloth-{place}")
    yield "</section>"
    for section in told.sections:
        yield from _section(section)
    yield '<section aria-labelledby="bags">\n<h2 id="bags">A label for each bag</h2>'
    yield f'<div class="bags">{"".join(map(_bag, bags(kit)))}</div>\n</section>'
    yield "</main>\n</body>\n</html>"


def _section(section: KitSection) -> Iterator[str]:
    name = section.name
    yield f'<section aria-labelledby="{name}">\n<h2 id="{name}">{_words(section.title)}</h2>'
    yield from (f"<p>{_words(one)}</p>" for one in section.says)
    yield from map(_own_table, section.tables)
    yield from (_figure(one, one.box.width / one.scale) for one in section.pictures)
    yield "</section>"


def _own_table(table: KitTable) -> str:
    return _table(table.head, table.rows, table.caption)


def _figure(drawing: Drawing, wide: float, more: str = "") -> str:
    return (
        f'<figure style="--wide:{wide:.2f}mm">{to_svg(drawing).strip()}'
        f"<figcaption>{_words(f'{drawing.title}.{more}')}</figcaption></figure>"
    )


def _plan(plan: SheetPlan, kit: Kit, name: str) -> Iterator[str]:
    yield f"<h3>{_words(plan_title(plan, kit))}</h3>"
    yield f"<p>{_words(taken_words(plan, kit.unit))}</p>"
    if plan.bought:
        yield f'<p class="about">{_words(proof_words(plan, kit.unit))}</p>'
    scale = scale_of(plan)
    for drawing in cutting_pictures(plan, kit, name):
        yield _figure(drawing, drawing.box.width / scale, " Crossed: left over.")
    keys = [(k, title, size, str(many)) for k, title, size, many in key_rows(plan, kit.unit)]
    yield _table(("Letter", "Piece", "Cut, width × height", "How many"), keys)
    cuts = [
        (str(number), one.does, one.ruler, str(one.layers))
        for number, one in enumerate(cut_lines(plan, kit.unit), 1)
    ]
    yield _table(("Cut", "What", "Ruler at", "Layers", "Done"), [(*cut, None) for cut in cuts])


def _bag(label: BagLabel) -> str:
    rows = "".join(f"<li>{_words(row)}</li>" for row in label.rows)
    return (
        f'<div class="bag"><strong>{_words(label.title)}</strong>{_words(label.number)}'
        f"<ul>{rows}</ul></div>\n"
    )


def _table(head: Sequence[str], rows: Iterable[Sequence[str | None]], caption: str = "") -> str:
    """A table; None is a box to tick."""
    above = f"<caption>{_words(caption)}</caption>" if caption else ""
    names = "".join(f'<th scope="col">{name}</th>' for name in head)
    body = "".join(f"<tr>{''.join(map(_cell, row))}</tr>\n" for row in rows)
    table = f"<table>{above}<thead><tr>{names}</tr></thead>\n<tbody>\n{body}</tbody></table>"
    label = escape(caption or head[0])
    return f'<div class="wide" tabindex="0" role="group" aria-label="{label}">{table}</div>'


def _cell(words: str | None) -> str:
    return '<td class="tick"></td>' if words is None else f"<td>{_words(words)}</td>"


def _words(words: str) -> str:
    return "".join(
        _fraction(part) if fraction else escape(part)
        for part, fraction in fraction_parts(unbroken(words))
    )


def _fraction(part: str) -> str:
    top, _, bottom = part.partition("/")
    return f'<span class="fr"><sup>{top}</sup>/<sub>{bottom}</sub></span>'
