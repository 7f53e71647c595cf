"""The booklet as one page of HTML that needs nothing else."""

from collections.abc import Iterable, Iterator, Sequence
from html import escape

from paramgen.booklet.cautions import Caution
from paramgen.booklet.lettered_pictures import LetteredPicture, StyleSample
from paramgen.booklet.said import (
    Booklet,
    JoinedSteps,
    Need,
    Notice,
    PieceFolding,
    StepBlock,
    Trouble,
)
from paramgen.booklet.word_setting import (
    CUT_SIZES,
    DISAPPOINTS,
    FOLDING,
    KNOW,
    capital,
    fraction_parts,
)
from paramgen.lengths import unbroken
from paramgen.supplies.cut_list import CutRow

#: Rows of the record of a test-sew are empty: the person fills them in on paper.
_STYLE = """
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0 auto;padding:1rem;max-width:64rem;background:#fff;color:#1a1f24;
font:1rem/1.5 system-ui,sans-serif;overflow-wrap:break-word}
h1{font-size:1.75rem;line-height:1.2;margin:.5rem 0}
h2{font-size:1.35rem;margin:2.5rem 0 .75rem;border-bottom:2px solid #1a1f24}
h3{font-size:1.1rem;line-height:1.3;margin:0 0 .4rem}
a{color:#0b4f8a}
p,ul,ol,dl{margin:.4rem 0}
ul,ol{padding-left:1.4rem}
dl.facts{display:grid;grid-template-columns:fit-content(40%) 1fr;gap:.2rem 1rem}
dl.facts dt{font-weight:600}
dl.facts dd{margin:0}
figure{margin:0}
figure svg{display:block;width:min(100%,1.4*var(--wide));height:auto;max-height:90vh}
.covers figure{margin:1rem 0}
.folds{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(20rem,100%),1fr));gap:1rem}
nav ul{list-style:none;padding:0;display:flex;flex-wrap:wrap;gap:.2rem 1.2rem}
table{border-collapse:collapse;width:100%;font-size:.95rem}
caption{text-align:left;font-weight:600;padding:.4rem 0}
th,td{text-align:left;vertical-align:top;padding:.35rem .5rem .35rem 0;
border-bottom:1px solid #868e96}
.tick{display:inline-block;width:1.1em;height:1.1em;border:2px solid #1a1f24;margin-right:.35em;
vertical-align:-.15em;appearance:none;background:#fff;cursor:pointer}
.ticks{white-space:nowrap}
.tick:checked{background:#1a1f24}
.fr{white-space:nowrap}
.fr sup,.fr sub{font-size:.68em;line-height:0;vertical-align:.42em}
.fr sub{vertical-align:-.02em}
.step{border:1px solid #868e96;border-radius:.4rem;padding:.8rem;margin:.8rem 0;display:grid;
gap:.5rem 1.2rem;grid-template-columns:minmax(0,1fr)}
.step.stop{border-left-width:.6rem}
ul.key{list-style:none;padding:0}
.key li{padding-left:2.1em;text-indent:-2.1em;margin:.15em 0}
.ring{display:inline-block;min-width:1.6em;height:1.6em;line-height:1.4em;margin-right:.5em;
border:2px solid;border-radius:.8em;text-align:center;text-indent:0;font-size:.85em}
.about{color:#495057}
.caution{border-left:.4rem solid #a11212;padding:.2rem .6rem;margin:.5rem 0;background:#fdf3f2}
.disappoints{border:.25rem solid #a11212;padding:.2rem .8rem;margin:1rem 0;background:#fdf3f2}
.disappoints h2{margin:.4rem 0;border:0}
.samples{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(15rem,100%),1fr));
gap:.2rem 1rem;list-style:none;padding:0}
.samples li{display:flex;gap:.6rem;align-items:center}
.samples svg{flex:none;width:3rem;height:auto}
.write td{height:2.2rem;width:65%}
.lines{height:21rem;background:repeating-linear-gradient(#fff 0 2.1rem,#868e96 2.1rem 2.2rem)}
@media print,(min-width:40rem){.covers figure,.beside{display:grid;gap:0 1.2rem;align-items:start;
grid-template-columns:minmax(0,5fr) minmax(0,6fr)}}
@media print,(min-width:46rem){.step{grid-template:auto 1fr/minmax(0,5fr) minmax(0,6fr)}
.step figure{grid-column:1;grid-row:1/span 2}.step>h3,.step div{grid-column:2}}
.step div h3{margin-top:.6rem}
table.when{table-layout:fixed}
.when thead :nth-child(1){width:24%}.when thead :nth-child(2){width:22%}
.when thead :nth-child(4){width:8.5em}
@media (max-width:40rem){
table.stack thead{position:absolute;clip-path:inset(50%);width:1px;height:1px;overflow:hidden}
table.stack tr{display:block;border-bottom:1px solid #868e96;padding:.3rem 0}
table.stack td,table.stack th{display:block;border:0;padding:.1rem 0}
table.stack td:empty{display:none}
table.stack td[data-of]::before{content:attr(data-of)": ";color:#495057}}
@media print{body{max-width:none;padding:0;font-size:9.5pt;line-height:1.4}nav{display:none}
.step,table,tr,figure,.caution,.folding{break-inside:avoid}h2,h3,caption{break-after:avoid}
h2{margin-top:7mm}figure svg{max-height:100mm;width:min(100%,var(--wide))}
.covers figure,.beside{margin-bottom:5mm}.covers svg{max-height:75mm}
.step{margin:2mm 0;padding:2mm;gap:.2rem 5mm}.step svg{max-height:62mm}
.folding svg{max-height:28mm}#part-whole~figure svg{max-height:125mm}
table{font-size:inherit}section[aria-labelledby=part-record],.samples{break-inside:avoid}
.samples{grid-template-columns:repeat(3,1fr)}
*{print-color-adjust:exact;-webkit-print-color-adjust:exact}}
@page{margin:14mm}
"""


def to_html(booklet: Booklet) -> str:
    """Write a booklet as one page.

    Returns
    -------
    str
        To be saved as UTF-8. Styles and pictures are in it; it asks for nothing from outside.
        The same booklet gives the same text.
    """
    return "\n".join(_page(booklet)) + "\n"


def _page(booklet: Booklet) -> Iterator[str]:
    yield '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">'
    yield '<meta name="viewport" content="width=device-width, initial-scale=1">'
    yield '<link rel="icon" href="data:,">'
    yield f"<title>{escape(booklet.title)}</title>\n<style>{_STYLE}</style>\n</head>\n<body>"
    yield f"<header>\n<h1>{_words(booklet.title)}</h1>\n<p>{_words(booklet.summary)}</p>"
    facts = (f"<dt>{_words(name)}</dt><dd>{_words(says)}</dd>" for name, says in booklet.facts)
    yield f'<dl class="facts">{"".join(facts)}</dl>'
    yield from _disappoints(booklet.disappoints)
    parts = tuple(_parts(booklet))
    links = (f'<li><a href="#part-{name}">{title}</a></li>' for name, title, _ in parts)
    yield f'<nav aria-label="Contents"><ul>{"".join(links)}</ul></nav>'
    yield f'<div class="covers">{"".join(map(_figure, booklet.finished))}</div>\n</header>\n<main>'
    for name, title, body in parts:
        yield f'<section aria-labelledby="part-{name}">\n<h2 id="part-{name}">{title}</h2>'
        yield from body
        yield "</section>"
    yield "</main>\n</body>\n</html>"


def _parts(booklet: Booklet) -> Iterator[tuple[str, str, Iterable[str]]]:
    yield "need", "What you need", _needs(booklet)
    yield "cut", "Cut list", _cut_list(booklet)
    if booklet.folding:
        yield "fold", FOLDING, _foldings(booklet)
    yield "cautions", "Take care", map(_caution, booklet.cautions)
    yield "reading", "How to read the pictures", _reading(booklet)
    yield "whole", "Every stitched line", (_figure(booklet.whole, "beside"),)
    yield "steps", "The steps", map(_step, booklet.steps)
    if booklet.finishing:
        yield "finishing", "Finishing", map(_step, booklet.finishing)
    yield "trouble", "What may go wrong", _wrong(booklet)
    yield "record", "Test-sew and notes", _record(booklet.record)


def _words(words: str) -> str:
    return "".join(
        _fraction(part) if fraction else escape(part)
        for part, fraction in fraction_parts(unbroken(words))
    )


def _fraction(part: str) -> str:
    """Set a fraction of plain figures, as no font of a device is known to have others."""
    top, _, bottom = part.partition("/")
    return f'<span class="fr"><sup>{top}</sup>/<sub>{bottom}</sub></span>'


def _figure(picture: LetteredPicture, kind: str = "", *, explained: bool = True) -> str:
    words = _explained(picture) if explained else ""
    caption = f"<figcaption>{words}</figcaption>" if words else ""
    of = f' class="{kind}"' if kind else ""
    # Letters are then of one size in all pictures.
    wide = f"--wide:{picture.width:.1f}mm"
    return f'<figure{of} style="{wide}">{picture.svg.strip()}{caption}</figure>'


def _explained(picture: LetteredPicture) -> str:
    title = f"<p><b>{_words(picture.title)}</b></p>" if picture.title else ""
    note = f"<p>{_words(picture.note)}</p>" if picture.note else ""
    return f"{title}{note}{_key(picture)}"


def _key(picture: LetteredPicture) -> str:
    """List what the letters in a picture stand for, each in its ring as it is there."""
    rows = (
        f'<li><b class="ring">{escape(one.letter)}</b> <b>{_words(one.title)}</b>'
        f"{', ' if one.says else ''}{_words(one.says)}</li>"
        for one in picture.key
    )
    return f'<ul class="key">{"".join(rows)}</ul>' if picture.key else ""


def _caution(caution: Caution) -> str:
    return (
        f'<p class="caution"><strong>{_words(caution.title)}.</strong> {_words(caution.says)}</p>'
    )


def _needs(booklet: Booklet) -> Iterator[str]:
    yield _need_table("Fabrics, before the hooping", booklet.fabrics, ("What", "How much", "More"))
    yield f"<p>{_words(booklet.estimate)}</p>"
    head = ("What", "How much", "More", "First needed")
    yield _need_table("All else, in the order in which you first need it", booklet.besides, head)
    yield _need_table("Needles", booklet.needles, ("What", "Which", "More"))
    yield f"<p>{_words(booklet.thread_note)}</p>"


def _need_table(title: str, needs: Sequence[Need], head: Sequence[str]) -> str:
    """Set what to have in as many columns as the head has."""
    rows = (
        f'<tr><th scope="row">{_words(one.what)}</th>{_need_cells(one, len(head))}</tr>'
        for one in needs
    )
    names = "".join(f'<th scope="col">{name}</th>' for name in head)
    kind = "stack when" if len(head) > 3 else "stack"
    return (
        f'<table class="{kind}"><caption>{title}</caption><thead><tr>{names}</tr></thead>'
        f"<tbody>{''.join(rows)}</tbody></table>"
    )


def _need_cells(need: Need, columns: int) -> str:
    first = f'<td data-of="first needed">{_words(need.first)}</td>' if columns > 3 else ""
    return f"<td>{_words(need.amount)}</td><td>{_words(need.note)}</td>{first}"


def _cut_list(booklet: Booklet) -> Iterator[str]:
    yield from map(_caution, booklet.cut_cautions)
    columns = ("Piece", "Fabric", "Cut", "Folded", "Done")
    head = "".join(f'<th scope="col">{name}</th>' for name in columns)
    rows = "".join(_cut_row(row) for row in booklet.cut)
    yield (
        f'<table class="stack"><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>'
        f"<p>{CUT_SIZES}</p>"
    )


def _cut_row(row: CutRow) -> str:
    boxes = "".join(
        f'<input type="checkbox" class="tick" '
        f'aria-label="{escape(row.title)}, {number} of {row.quantity}, is cut">'
        for number in range(1, row.quantity + 1)
    )
    return (
        f'<tr><th scope="row">{row.quantity} × {_words(row.title)}</th>'
        f'<td data-of="fabric">{_words(row.fabric)}</td><td data-of="cut">{_words(row.cut)}</td>'
        f'<td data-of="folded">{_words(row.folded) or "not folded"}</td>'
        f'<td class="ticks">{boxes}</td></tr>'
    )


def _foldings(booklet: Booklet) -> Iterator[str]:
    yield from map(_caution, booklet.fold_cautions)
    yield f'<div class="folds">{"".join(map(_folding, booklet.folding))}</div>'


def _folding(folding: PieceFolding) -> str:
    moves = "".join(f"<li>{_words(move)}</li>" for move in folding.moves)
    when = f"<p>{_words(folding.when)}</p>" if folding.when else ""
    return (
        f'<div class="folding"><h3>{_words(capital(folding.title))}</h3>{when}<ol>{moves}</ol>'
        f"{_figure(folding.picture)}</div>"
    )


def _reading(booklet: Booklet) -> Iterator[str]:
    yield from (f"<p>{_words(one)}</p>" for one in booklet.reading)
    yield f'<ul class="samples">{"".join(map(_sample, booklet.samples))}</ul>'


def _sample(sample: StyleSample) -> str:
    return f"<li>{sample.picture.svg.strip()}<span>{_words(sample.means)}</span></li>"


def _step(steps: JoinedSteps) -> str:
    """Set the steps of a block, beside their picture."""
    first, colour = steps.blocks[0], next((one.colour for one in steps.blocks if one.colour), None)
    kind, edge = "step", ""
    if colour:
        kind, edge = "step stop", f' style="border-left-color:{colour}"'
    look = "".join(f"<li>{_words(one)}</li>" for one in steps.look)
    looks = f"<p><strong>Look for</strong></p><ul>{look}</ul>" if look else ""
    does = [
        f"{'' if block is first else _step_heading(block)}{_doing(block)}"
        f"{''.join(map(_caution, steps.cautions(block)))}"
        for block in steps.blocks
    ]
    return (
        f'<article class="{kind}"{edge} aria-labelledby="step-title-{first.number}">'
        f"{_step_heading(first)}{_figure(steps.picture, explained=False)}<div>"
        f"{''.join(does)}{_key(steps.picture)}{looks}"
        f'<p class="about">{_words(steps.about)}</p></div></article>'
    )


def _step_heading(block: StepBlock) -> str:
    number = _words(block.number_words)
    if block.colour:
        number += f", {escape(block.colour_name)}"
    return (
        f'<h3 id="step-title-{block.number}"><span class="about">{number}</span><br>'
        f"{_words(block.title)}</h3>"
    )


def _doing(block: StepBlock) -> str:
    notes = "".join(f" <strong>{_words(one)}</strong>" for one in block.notes)
    return f"<p>{_words(block.say)}{notes}</p>"


def _disappoints(notices: Sequence[Notice]) -> Iterator[str]:
    """Set what will disappoint in a box of its own, before all else."""
    if notices:
        said = "".join(map(_notice, notices))
        yield (
            '<section class="disappoints" aria-labelledby="part-disappoints">'
            f'<h2 id="part-disappoints">{DISAPPOINTS}</h2>{said}</section>'
        )


def _notice(notice: Notice) -> str:
    return f"<p><strong>{_words(notice.what)}</strong> {_words(notice.more)}</p>"


def _wrong(booklet: Booklet) -> Iterator[str]:
    if booklet.worth_knowing:
        yield f"<h3>{KNOW}</h3>"
        yield from map(_notice, booklet.worth_knowing)
    yield _troubles(booklet.troubles)


def _troubles(troubles: Sequence[Trouble]) -> str:
    rows = (
        f'<tr><th scope="row">{_words(one.what)}</th>'
        f'<td data-of="how to see it">{_words(one.see)}</td>'
        f'<td data-of="what helps">{_words(one.do)}</td></tr>'
        for one in troubles
    )
    return (
        '<table class="stack"><thead><tr><th scope="col">What</th>'
        '<th scope="col">How to see it</th><th scope="col">What helps</th></tr></thead>'
        f"<tbody>{''.join(rows)}</tbody></table>"
    )


def _record(record: Sequence[str]) -> Iterator[str]:
    rows = "".join(f'<tr><th scope="row">{_words(one)}</th><td></td></tr>' for one in record)
    yield "<p>Sew one from scraps first and write down what you find.</p>"
    yield f'<table class="write"><tbody>{rows}</tbody></table>'
    yield '<h3>Notes</h3><div class="lines"></div>'
