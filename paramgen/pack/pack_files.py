"""Everything in a project's folder, as bytes by file name."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import field
from functools import cached_property, partial

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
from paramgen.drawings.primitives.items import Drawing
from paramgen.files.file_label import safe_label
from paramgen.files.formats import Format
from paramgen.files.proven_files import StitchFile, write_stitch_files
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
from paramgen.vocabulary.frozen_data import dataclass

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
    work = PackWork(
        made=made,
        formats=formats,
        printing=printing,
        papers=papers,
        besides=besides,
        finished=finished,
        form=form,
        cloths=cloths,
    )
    found = {name: write() for name, write in work.files()}
    return {file: found[file] for file in sorted(found)}


#: A file's name, with / between folders, and what writes it.
FileToWrite = tuple[str, Callable[[], bytes]]


@dataclass(frozen=True, kw_only=True)
class PackWork:
    """A project's folder file by file, each written when it is asked for.

    Parameters
    ----------
    made, formats, printing, papers, besides, finished, form, cloths
        As for `contents`, which see for what is raised as files are written, too.
    """

    made: Made
    formats: Sequence[Format]
    printing: Printing | None = None
    papers: bool = True
    besides: Sequence[str] = ()
    finished: tuple[FramedPicture, ...] = ()
    form: BookletLength = BookletLength.SHORT
    cloths: Cloths = field(default_factory=dict)

    def files(self) -> Iterator[FileToWrite]:
        """Every file, `plan.json` last: it lists the others."""
        names = []
        for name, write in self._all_but_the_plan():
            names.append(name)
            yield name, write
        yield PLAN, lambda: self._plan(sorted([*names, PLAN, *self.besides]))

    def file(self, wanted: str) -> FileToWrite | None:
        """One file by its name; None if the folder has none of that name."""
        return next((one for one in self.files() if one[0] == wanted), None)

    def to_take(self) -> Iterator[str]:
        """Names of the files that are of use without the others, at little cost."""
        yield from (name for name, _ in self._stitch())
        yield from (name for name, _ in (*self._papers(), *_cutting(self.made)))

    def _all_but_the_plan(self) -> Iterator[FileToWrite]:
        # Pictures come last: where one file is wanted, none is drawn for its name alone.
        yield from self._stitch()
        yield from _cutting(self.made)
        if self.papers:
            yield from self._papers()
        yield from _pictures(self._scene, lambda: self._shown, self.made)

    def _stitch(self) -> Iterator[FileToWrite]:
        name = project_name(self.made)
        for place, kind in enumerate(self.formats):
            yield f"stitch/{name}{kind.ending}", partial(self._stitched, place)

    def _papers(self) -> Iterator[FileToWrite]:
        printing, usual = self._printing, self._usual_paper
        yield "booklet.html", lambda: to_html(self._said).encode()
        if can_typeset():
            yield from _sheets(lambda: self._scene, self.made, printing)
            yield from _to_print(lambda: self._said, printing, usual)

    def _stitched(self, place: int) -> bytes:
        return self._written[place].data

    def _plan(self, names: list[str]) -> bytes:
        name = project_name(self.made)
        files = {f"stitch/{name}{one.ending}": one for one in self._written}
        printing = self._printing if self.papers and can_typeset() else None
        return to_json(plan(self.made, files, names, printing, self.cloths)).encode()

    @property
    def _usual_paper(self) -> Paper:
        return default_paper(self.made.project.unit, listed_papers())

    @property
    def _printing(self) -> Printing:
        return self.printing or Printing(self._usual_paper)

    @cached_property
    def _written(self) -> tuple[StitchFile, ...]:
        return write_stitch_files(
            self.made.sewn, self.formats, _label(self.made, project_name(self.made))
        )

    @cached_property
    def _scene(self) -> Scene:
        return scene_of(self.made, self.cloths)

    @cached_property
    def _shown(self) -> BookletPictures:
        return _shown(self._scene, self.made, self.finished)

    @cached_property
    def _said(self) -> Booklet:
        return booklet(self.made, self._scene, self._shown, self.form)


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
    scene = scene_of(made, cloths)
    shown = _shown(scene, made, ())
    return {name: write().decode() for name, write in _pictures(scene, lambda: shown, made)}


def scene_of(made: Made, cloths: Cloths = NO_CLOTHS) -> Scene:
    """What is made, ready for all the pictures of it."""
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


def _pictures(
    scene: Scene, shown: Callable[[], BookletPictures], made: Made
) -> Iterator[FileToWrite]:
    project = made.project
    yield "whole.svg", lambda: to_svg(whole(scene)).encode()
    for place, step in enumerate(project.steps):
        stem = f"{step.number:02}-{safe_name(step.title)}"
        yield f"steps/{stem}.svg", partial(_step_picture, shown, place)
    cloths = scene.cloths
    through = (section(made.thing.done, cloths), turned_section(made.thing, cloths))
    views = map(composed, (*shown().finished, *shown().solid))
    for drawing in (*views, *filter(None, through)):
        name = f"finished/{drawing.name.removeprefix('finished-')}.svg"
        yield name, partial(_as_svg, drawing)
    stems = distinct([safe_name(piece.name) for piece in project.pieces])
    for stem, piece in zip(stems, project.pieces, strict=True):
        drawing = piece_template(
            piece,
            project.unit,
            scene.tones[piece.fabric],
            of=project.own_title,
            printed=print_as_cut(scene, piece),
        )
        yield f"pieces/{stem}.svg", partial(_as_svg, drawing)


def _step_picture(shown: Callable[[], BookletPictures], place: int) -> bytes:
    return _as_svg(composed(shown().steps[place]))


def _as_svg(drawing: Drawing) -> bytes:
    return to_svg(drawing).encode()


def _sheets(scene: Callable[[], Scene], made: Made, printing: Printing) -> Iterator[FileToWrite]:
    project = made.project
    size = unbroken(show_size_both(*project.finished, project.unit, depth=project.depth))
    frame = SheetFrame(printing, f"{project.title}, finished {size}")
    yield (
        "templates.pdf",
        lambda: printed(frame, template_leaves(project, frame), "template"),
    )
    yield "fit-sheet.pdf", lambda: printed(frame, fit_leaves(scene(), frame), "fit-sheet")


def _cutting(made: Made) -> Iterator[FileToWrite]:
    names = fabrics(made.project.pieces)
    stems = distinct([safe_name(fabric) for fabric in names])
    for stem, fabric in zip(stems, names, strict=True):
        yield f"cutting/{stem}.svg", partial(_cutting_layer, made, fabric)


def _cutting_layer(made: Made, fabric: str) -> bytes:
    return cutting_layer(made.project.pieces, fabric).encode()


def _to_print(
    said: Callable[[], Booklet], printing: Printing, usual: Paper
) -> Iterator[FileToWrite]:
    paper = paper_for(printing, usual)
    yield "booklet.pdf", lambda: to_pdf(said(), paper, printing.margin)
    yield "wall-strip.pdf", lambda: to_strip(said(), paper, printing.margin)
