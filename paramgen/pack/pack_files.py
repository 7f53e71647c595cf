"""Everything in a project's folder, as bytes by file name."""

from collections.abc import Iterator, Sequence

from paramgen.booklet.as_html import to_html
from paramgen.booklet.as_pdf import paper_for, to_pdf, to_strip
from paramgen.booklet.booklet_length import BookletLength
from paramgen.booklet.compose import BookletPictures, booklet
from paramgen.booklet.said import Booklet
from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.front_end.framed_picture import FramedPicture, composed
from paramgen.drawings.front_end.print_as_cut import print_as_cut
from paramgen.drawings.front_end.scene import Scene, hooped
from paramgen.drawings.pictures.finished_views import finished_sheets
from paramgen.drawings.pictures.piece_template import piece_template
from paramgen.drawings.pictures.section import section, turned_section
from paramgen.drawings.pictures.solid_views import solid_sheets
from paramgen.drawings.pictures.step import step_sheet
from paramgen.drawings.pictures.whole_project import whole
from paramgen.files.file_label import safe_label
from paramgen.files.formats import Format
from paramgen.files.proven_files import write_stitch_files
from paramgen.lengths import show_size_both, unbroken
from paramgen.making import Made
from paramgen.pack.file_names import distinct, project_name, safe_name
from paramgen.pack.put_in_place import PLAN
from paramgen.papers.cutting_machine import cutting_layer, fabrics
from paramgen.papers.document import printed
from paramgen.papers.fit_sheet import fit_leaves
from paramgen.papers.printing import Printing
from paramgen.papers.sheet_frame import SheetFrame
from paramgen.papers.templates import template_leaves
from paramgen.papers.typeset import can_typeset
from paramgen.plan.write_plan import plan, to_json
from paramgen.reference.paper_sizes import Paper, default_paper, listed_papers
from paramgen.vocabulary.cloth import NO_CLOTHS, Cloths

Contents = dict[str, bytes]

#: What is left out where nothing can be typeset.
PDFS = ("booklet.pdf", "fit-sheet.pdf", "templates.pdf", "wall-strip.pdf")


def contents(
    made: Made,
    formats: Sequence[Format],
    printing: Printing | None = None,
    *,
    papers: bool = True,
    besides: Sequence[str] = (),
    finished: tuple[FramedPicture, ...] = (),
    form: BookletLength = BookletLength.SHORT,
    cloths: Cloths = NO_CLOTHS,
) -> Contents:
    """Write a project into memory.

    Parameters
    ----------
    made : Made
    formats : sequence of Format
        Kinds of stitch file.
    printing : Printing or None
        How the papers are printed; on the usual paper of the person's unit if not said.
    papers : bool
        Whether there are papers and a booklet; they take longer than all the rest. PDFs are left
        out where they cannot be typeset.
    besides : sequence of str
        Names of files that whoever asks puts into the folder too: its plan must list them.
    finished : tuple of FramedPicture
        Pictures of the finished thing, if they are drawn already.
    form : BookletLength
        Of the booklet.
    cloths : mapping of name to Cloth
        What its fabrics look like, as far as the person said it.

    Returns
    -------
    dict of file name, with / between folders, to bytes

    Raises
    ------
    CannotMakeError
        If a kind of stitch file cannot carry the project.
    WriteError
        If a stitch file does not read back as it was written.
    """
    name = project_name(made)
    written = write_stitch_files(made.sewn, formats, _label(made, name))
    files = {f"stitch/{name}{file.ending}": file for file in written}
    found: Contents = {name: file.data for name, file in files.items()}
    scene = _scene(made, cloths)
    shown = _shown(scene, made, finished)
    found.update((file, text.encode()) for file, text in _pictures(scene, shown, made))
    found.update(_cutting(made))
    pdfs = papers and can_typeset()
    if papers:
        usual = default_paper(made.project.unit, listed_papers())
        printing = printing or Printing(usual)
        said = booklet(made, scene, shown, form)
        found["booklet.html"] = to_html(said).encode()
        if pdfs:
            found.update(_papers(scene, made, printing))
            found.update(_to_print(said, printing, usual))
    names = sorted([*found, PLAN, *besides])
    found[PLAN] = to_json(plan(made, files, names, printing if pdfs else None, cloths)).encode()
    return {file: found[file] for file in sorted(found)}


def drawn_pictures(made: Made, cloths: Cloths = NO_CLOTHS) -> dict[str, str]:
    """Draw all pictures of a project, as its folder has them.

    Parameters
    ----------
    made : Made
    cloths : mapping of name to Cloth
        What its fabrics look like, as far as the person said it.

    Returns
    -------
    dict of file name to SVG
        `whole.svg`, one in `steps/` for each step, `finished/` and `pieces/`.
    """
    scene = _scene(made, cloths)
    return dict(_pictures(scene, _shown(scene, made, ()), made))


def _scene(made: Made, cloths: Cloths) -> Scene:
    hoop = made.room.hoop
    return hooped(made.project, hoop.name, hoop.width, hoop.height, made.thing, made.move, cloths)


def _shown(scene: Scene, made: Made, finished: tuple[FramedPicture, ...]) -> BookletPictures:
    return BookletPictures(
        tuple(step_sheet(scene, step.number) for step in made.project.steps),
        finished or finished_sheets(made.thing, scene.cloths),
        solid_sheets(made.thing, scene.cloths),
    )


def _label(made: Made, name: str) -> str:
    """What stitch files are labelled: the person's title, if they can spell it."""
    title = made.project.own_title
    return title if title and safe_label(title, len(title)) != safe_label("", len(title)) else name


def _pictures(scene: Scene, shown: BookletPictures, made: Made) -> Iterator[tuple[str, str]]:
    project = made.project
    yield "whole.svg", to_svg(whole(scene))
    for step, sheet in zip(project.steps, shown.steps, strict=True):
        stem = f"{step.number:02}-{safe_name(step.title)}"
        yield f"steps/{stem}.svg", to_svg(composed(sheet))
    cloths = scene.cloths
    through = (section(made.thing.done, cloths), turned_section(made.thing, cloths))
    views = map(composed, (*shown.finished, *shown.solid))
    for drawing in (*views, *filter(None, through)):
        yield f"finished/{drawing.name.removeprefix('finished-')}.svg", to_svg(drawing)
    stems = distinct([safe_name(piece.name) for piece in project.pieces])
    for stem, piece in zip(stems, project.pieces, strict=True):
        yield (
            f"pieces/{stem}.svg",
            to_svg(
                piece_template(
                    piece,
                    project.unit,
                    scene.tones[piece.fabric],
                    of=project.own_title,
                    printed=print_as_cut(scene, piece),
                )
            ),
        )


def _papers(scene: Scene, made: Made, printing: Printing) -> Iterator[tuple[str, bytes]]:
    project = made.project
    size = unbroken(show_size_both(*project.finished, project.unit))
    frame = SheetFrame(printing, f"{project.title}, finished {size}")
    yield "templates.pdf", printed(frame, template_leaves(project, frame), "template")
    yield "fit-sheet.pdf", printed(frame, fit_leaves(scene, frame), "fit-sheet")


def _cutting(made: Made) -> Iterator[tuple[str, bytes]]:
    pieces = made.project.pieces
    names = fabrics(pieces)
    stems = distinct([safe_name(fabric) for fabric in names])
    for stem, fabric in zip(stems, names, strict=True):
        yield f"cutting/{stem}.svg", cutting_layer(pieces, fabric).encode()


def _to_print(said: Booklet, printing: Printing, usual: Paper) -> Iterator[tuple[str, bytes]]:
    paper = paper_for(printing, usual)
    yield "booklet.pdf", to_pdf(said, paper, printing.margin)
    yield "wall-strip.pdf", to_strip(said, paper, printing.margin)
