"""Everything a booklet says, from one project and its pictures."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from paramgen.booklet.booklet_length import BookletLength
from paramgen.booklet.cautions import CautionPlace, cautions_at
from paramgen.booklet.fold_diagrams import folded_moves, folding_picture
from paramgen.booklet.joined_steps import as_one, belonging, drawn
from paramgen.booklet.lettered_pictures import (
    HEIGHT,
    LETTERS,
    WIDTH,
    LetteredPicture,
    LetterKey,
    keyed,
    lettered,
    plain,
    samples,
)
from paramgen.booklet.said import Booklet, JoinedSteps, Need, PieceFolding, StepBlock
from paramgen.booklet.what_to_check import notices, to_look_for, troubles
from paramgen.booklet.word_setting import capital
from paramgen.drawings.front_end.framed_picture import FramedPicture
from paramgen.drawings.front_end.legend import LegendEntry
from paramgen.drawings.front_end.print_ways import upside_down
from paramgen.drawings.front_end.scene import Scene, State
from paramgen.drawings.front_end.work_in_hoop import stop_colour, taped_before
from paramgen.drawings.front_end.work_turned_out import shown_state
from paramgen.drawings.pictures.section import section_line, section_sheet, turned_section_sheet
from paramgen.drawings.pictures.solid_views import telling
from paramgen.drawings.pictures.whole_project import gap_words, whole_sheet
from paramgen.drawings.primitives.paragraphs import TextLine, fabric_name, listed
from paramgen.layout.stop_colours import COLOURS
from paramgen.lengths import show, show_both, show_size_both
from paramgen.making import Made
from paramgen.reference.thread_sold import usual_thread
from paramgen.supplies.all_supplies import supplies
from paramgen.supplies.cut_list import cut_list
from paramgen.supplies.fabric_amount import SOLD_BY, USABLE
from paramgen.supplies.sewing import StepSewing, sewings, to_put_in
from paramgen.supplies.supply import Supply
from paramgen.vocabulary.cloth import Cloths
from paramgen.vocabulary.findings import Severity
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Act, Side
from paramgen.vocabulary.project import Held, Piece, Project, Step
from paramgen.vocabulary.unit import Unit

_COLOUR_NAMES = dict(
    zip(
        COLOURS,
        (
            "dark red",
            "green",
            "dark blue",
            "orange",
            "dark green",
            "pink",
            "brown",
            "light blue",
            "violet",
            "red",
        ),
        strict=True,
    )
)
_SEEN = {"front": "Seen from the front.", "back": "Seen from the back: left and right swap."}

# More letters crowd the picture of a step.
_MOST_LETTERS = 4

# Room in the strip of all steps, mm.
_SMALL = (30.0, 30.0)


@dataclass(frozen=True, kw_only=True)
class _Rooms:
    """Room on paper, mm: width and height for each kind of picture.

    Parameters
    ----------
    cover, others : (float, float)
        The finished thing, on the cover and from other sides.
    section, whole : (float, float)
        A section, and every stitched line.
    step, crowded : (float, float)
        A step, and one with so many letters that in less room they would cover what they name.
    """

    cover: tuple[float, float]
    others: tuple[float, float]
    section: tuple[float, float]
    whole: tuple[float, float]
    step: tuple[float, float]
    crowded: tuple[float, float]

    def of_step(self, sheet: FramedPicture) -> tuple[float, float]:
        """Room for the picture of a step, by the letters that it will have."""
        below = sheet.inset.labels if sheet.inset else ()
        return self.crowded if len(sheet.labels) + len(below) > _MOST_LETTERS else self.step


_ROOMS = {
    BookletLength.FULL: _Rooms(
        cover=(120.0, 110.0),
        others=(80.0, 76.0),
        section=(110.0, 110.0),
        whole=(110.0, 122.0),
        step=(WIDTH, HEIGHT),
        crowded=(WIDTH, HEIGHT),
    ),
    BookletLength.SHORT: _Rooms(
        cover=(84.0, 66.0),
        others=(56.0, 58.0),
        section=(88.0, 88.0),
        whole=(74.0, 72.0),
        step=(36.0, 42.0),
        crowded=(76.0, 59.0),
    ),
}

# Layers of a section are drawn so much thinner than letters would need that lay within them.
_COMPACT = 0.75


@dataclass(frozen=True)
class BookletPictures:
    """The pictures of a project, drawn once for all that shows them.

    Parameters
    ----------
    steps, finished : tuple of FramedPicture
        Of every step in order, and of the finished thing.
    solid : tuple of FramedPicture
        Of the finished thing as a solid; the booklet shows the one that tells most.
    """

    steps: tuple[FramedPicture, ...]
    finished: tuple[FramedPicture, ...]
    solid: tuple[FramedPicture, ...] = ()


def booklet(
    made: Made, scene: Scene, shown: BookletPictures, form: BookletLength = BookletLength.SHORT
) -> Booklet:
    """Put together what a booklet says.

    Parameters
    ----------
    made : Made
    scene : Scene
        The project made ready for drawing.
    shown : BookletPictures
    form : BookletLength
    """
    room = _ROOMS[form]
    project, steps, finished = made.project, shown.steps, shown.finished
    sewn, have = sewings(made), supplies(made)
    by_step = {one.step: one for one in sewn}
    notes = list(_notes(made, sewn, have))
    blocks = tuple(
        _block(
            made,
            scene,
            _Doing(
                step,
                by_step.get(step.number),
                tuple(note for number, note in notes if number == step.number),
            ),
            sheet,
            room,
        )
        for step, sheet in zip(project.steps, steps, strict=True)
    )
    together = tuple(_together(scene, steps, blocks, form))
    last = max((step.number for step in project.steps if step.lines), default=0)
    sections = tuple(_sections(made, scene.cloths, room))
    solid = telling(shown.solid)
    entries = [entry for sheet in (*steps, *finished, *solid, *sections) for entry in sheet.legend]
    covers = sorted(finished, key=lambda sheet: sheet.name != "finished-front")
    return Booklet(
        title=project.title,
        summary=project.summary,
        facts=tuple(facts(made)),
        finished=(
            *(
                _told(
                    sheet,
                    lettered(sheet, *(room.others if place else room.cover)),
                    sheet.heading[2:],
                )
                for place, sheet in enumerate(covers)
            ),
            *(_told(sheet, plain(sheet, *room.others), sheet.heading[1:]) for sheet in solid),
            # What is true of every section is said at the first.
            *(
                _told(
                    one,
                    lettered(one, *room.section),
                    one.heading[1:2] if place else one.heading[1:],
                )
                for place, one in enumerate(sections)
            ),
        ),
        fabrics=tuple(_need(one) for one in have if one.sort == "fabric"),
        besides=tuple(_need(one) for one in have if one.sort not in ("fabric", "needle")),
        needles=tuple(_needle(one) for one in have if one.sort == "needle"),
        estimate=f"{_hooped_again(project)} {_estimate(project.unit)}".lstrip(),
        thread_note=_thread_note(),
        cut=tuple(cut_list(project)),
        folding=tuple(_folding(piece, scene) for piece in project.pieces if piece.creases),
        samples=tuple(samples(_told_once(entries))),
        reading=tuple(_reading(scene)),
        whole=_whole(scene, room),
        steps=tuple(one for one in together if one.blocks[0].number <= last),
        finishing=tuple(one for one in together if one.blocks[0].number > last),
        disappoints=notices(made, Severity.DISAPPOINT),
        worth_knowing=notices(made, Severity.KNOW),
        troubles=troubles(made),
        cautions=cautions_at(CautionPlace(project, "all", thick=any(one.thick for one in sewn))),
        cut_cautions=cautions_at(CautionPlace(project, "cut")),
        fold_cautions=cautions_at(CautionPlace(project, "fold")),
        record=tuple(_record(project)),
        form=form,
    )


def _together(
    scene: Scene, sheets: Sequence[FramedPicture], blocks: Sequence[StepBlock], form: BookletLength
) -> Iterator[JoinedSteps]:
    """Put steps that belong together in one block; in the full form each stands alone."""
    if form is BookletLength.FULL:
        yield from (JoinedSteps((block,), block.picture, block.about) for block in blocks)
        return
    for run in belonging(scene):
        here = tuple(blocks[step.number - 1] for step in run)
        if len(run) == 1:
            yield JoinedSteps(here, here[0].picture, here[0].about)
        else:
            sheet = as_one(scene, sheets, run)
            picture = lettered(sheet, *_ROOMS[form].of_step(sheet))
            yield JoinedSteps(here, picture, blocks[drawn(run).number - 1].about)


def _told_once(entries: Sequence[LegendEntry]) -> Iterator[LegendEntry]:
    """Leave out how a fabric looks that is laid now, where it is told how it looks later."""
    later = {(one.style, one.tone) for one in entries if not one.now}
    return (
        one
        for one in entries
        if not (one.now and one.tone is not None and (one.style, one.tone) in later)
    )


def _told(
    sheet: FramedPicture, picture: LetteredPicture, heading: Sequence[TextLine]
) -> LetteredPicture:
    """Say what a picture is and, by some of the lines that head its sheet, how it is seen."""
    title = sheet.title.rpartition(": ")[2].removeprefix("finished, ")
    note = " ".join(line.text for line in heading)
    return replace(picture, title=capital(title), note=note)


def _sections(made: Made, cloths: Cloths, room: _Rooms) -> Iterator[FramedPicture]:
    """Sections through the layers in the hoop, and through the thing once it is turned."""
    em = _section_letters(made, room)
    yield section_sheet(made.thing.done, em, cloths, titled=False)
    turned = turned_section_sheet(made.thing, em, cloths, titled=False)
    if turned is not None:
        yield turned


def _section_letters(made: Made, room: _Rooms) -> float:
    """Size of letters of which the layers can be told apart on paper."""
    return _COMPACT * LETTERS * max(1.0, section_line(made.thing.done).length / room.section[0])


def _whole(scene: Scene, room: _Rooms) -> LetteredPicture:
    """Every stitched line; the numbers in it are those of the stops."""
    view = scene.whole_view
    em = LETTERS * max(1.0, view.width / room.whole[0], view.height / room.whole[1])
    key = tuple(
        LetterKey(str(step.stop), capital(step.title), "; ".join(_lines_of(step)))
        for step in scene.project.steps
        if step.lines
    )
    picture = keyed(whole_sheet(scene, em), *room.whole, key)
    gap = gap_words(scene)
    return replace(picture, note=f"The double line is the {gap}." if gap else "")


def _lines_of(step: Step) -> Iterator[str]:
    """The colour of a stop, and its lines if there are several."""
    yield _COLOUR_NAMES.get(step.colour or "", "")
    titles = list(dict.fromkeys(line.title for line in step.lines))
    yield from titles if len(titles) > 1 else ()


def _record(project: Project) -> Iterator[str]:
    """What to write down of a test-sew."""
    yield from ("Date", "Machine and hoop", "Fabrics", "Stabiliser", "Needle")
    yield from ("Needle thread and bobbin thread", "Finished size measured")
    for title in dict.fromkeys(held.title for held in project.holds):
        yield f"Tried, in and out: {title}"
    yield "To change next time"


def facts(made: Made) -> Iterator[tuple[str, str]]:
    """Say what heads the booklet: each fact by its name."""
    project, hoop = made.project, made.room.hoop
    size = show_size_both(*project.finished, project.unit, depth=project.depth)
    yield "Finished size", f"{size}{', open and flat' if made.thing.folds_shut else ''}"
    field = show_size_both(hoop.width, hoop.height, project.unit)
    turned = ", lying turned by 90°" if project.turned else ""
    yield "Hoop", f"{hoop.name}, field {field}{turned}"
    if project.copies > 1:
        yield "Copies", f"One hooping gives {project.copies}"
    stops = sum(1 for step in project.steps if step.lines)
    hand = len(project.steps) - stops
    yield "Steps", f"{len(project.steps)}: {stops} at the machine, {hand} by hand"
    yield "Stitches", str(sum(step.stitch_count for step in made.sewn))
    for held in project.holds:
        yield "Made to hold", _held(held, project.unit)
    for _, means, _, option_means in project.choices:
        yield capital(means), option_means


def _held(held: Held, unit: Unit) -> str:
    """Say how many of what it holds at once, and how large each is."""
    size = show_size_both(*held.size, unit)
    each = f", up to {show_both(held.thickness, unit)} thick" if held.thickness else ""
    if held.asked:
        where = "together" if held.number == 1 else f"in each of {held.number} pockets"
        piled = f"; up to {show_both(held.thickness, unit)} thick {where}" if each else ""
        return f"{held.asked} × {held.title}, each {size}{piled}"
    if held.number == 1:
        return f"{held.title}, {size}{each}"
    return f"{held.number} × {held.title}, each {size}{each}"


# --- What you need --------------------------------------------------------------------


def _need(supply: Supply) -> Need:
    return Need(supply.title, supply.amount, supply.note, supply.first_needed)


def _needle(supply: Supply) -> Need:
    """Set a needle by where it is used."""
    return Need(capital(supply.amount), supply.title, supply.note)


def _hooped_again(project: Project) -> str:
    """Say what the amounts are for where something goes with what several hoopings give."""
    if not any(one.once and not one.fills_hoop for one in project.notions):
        return ""
    return (
        "All fabric, stabiliser and thread are for one hooping, which gives "
        f"{project.copies}: have as much again for each further one."
    )


def _estimate(unit: Unit) -> str:
    width, mark = show(USABLE[unit], unit), show_both(SOLD_BY[unit], unit)
    return (
        f"The lengths are an estimate: pieces in rows across a usable width of {width}, the grain "
        f"along the fabric, rounded up to the next {mark}. Nothing is added for shrinking or for "
        "matching a print. Scraps will do wherever a piece fits on them."
    )


def _thread_note() -> str:
    return (
        "The thread is the most that an estimate comes to for a lockstitch (ISO 4915, type 301): "
        "twice the stitch and the thickness it goes through together, and "
        f"{100 * usual_thread().waste.most:.0f} % for waste. "
        "Allow more for sewing by hand. "
        "One colour will do: the colours in the files only tell the stops apart."
    )


# --- Pieces ---------------------------------------------------------------------------


def _folding(piece: Piece, scene: Scene) -> PieceFolding:
    project = scene.project
    moves, _ = folded_moves(piece, project.unit)
    return PieceFolding(
        piece.title,
        " ".join(_when_folded(piece, project)),
        tuple(move.says for move in moves),
        folding_picture(piece, project.unit, scene.tones[piece.fabric]),
    )


def _when_folded(piece: Piece, project: Project) -> Iterator[str]:
    """Say in which step a piece is folded, and which comes before."""
    steps = project.steps
    folds = [step for step in steps if step.act in (Act.FOLD, Act.EDGE_STITCH)]
    step = next((one for one in folds if piece.name in one.pieces), None)
    if step is not None:
        yield f"In step {step.number}."
    elif not any(one.act is Act.FOLD and not one.pieces for one in folds):
        laid = [s for s in steps if any(one.piece == piece.name for one in s.layers)]
        bound = [s for s in steps if s.act is Act.BIND and piece.name == project.finish.binding]
        yield from [f"Before it is laid in step {one.number}." for one in laid[:1]]
        yield from [f"Before it is sewn on in step {one.number}." for one in bound[:1]]
    fused = [one for one in steps if one.act is Act.FUSE and piece.name in one.pieces]
    for one in fused:
        if step is not None and step.number < one.number:
            continue  # it is opened again for that
        yield f"Step {one.number} comes first: {one.title[:1].lower()}{one.title[1:]}."
    if not fused and project.fused(piece):
        yield "Fuse the interfacing first."


# --- Steps ----------------------------------------------------------------------------


def _reading(scene: Scene) -> Iterator[str]:
    yield (
        "The top of each picture is the edge of the hoop that is away from you; out of the hoop "
        "the work is shown as it lay in it. Letters in a picture lead to the words beside it."
    )
    if any(step.seen_from is Side.BACK for step in scene.project.steps):
        yield (
            "Pictures of the back of the hoop show it as you see it when you have turned it over "
            "like a page: left and right change places."
        )
    yield (
        "Each fabric has its own tone and small mark. Its right side is shaded and its wrong side "
        "hatched; what is laid now is darker, within a heavy edge."
    )
    yield from _reading_prints(scene)
    if scene.close_up:
        yield "The work is small in its hoop: the pictures show it close up, not the whole hoop."
    yield (
        "A step with a stop is one that the machine stitches and after which it halts; the number "
        "is the one that it shows. Steps by hand have no stop."
    )


def _reading_prints(scene: Scene) -> Iterator[str]:
    """Say how a person's own fabrics are shown, and where a print will not stand right."""
    if scene.cloths:
        yield (
            "Your own fabrics are shown in their colours, paler where they were laid before, and "
            "very pale on their wrong side."
        )
    if scene.thing is None or not scene.prints:
        return
    yield (
        "A print is in scale with its piece and lies as the piece does, mirrored where it is seen "
        "from its wrong side. Cut each piece so that its print can lie as the pictures show it."
    )
    if over := upside_down(scene.thing, scene.cloths):
        yield (
            f"One piece goes over a fold: the print of the {listed(list(map(fabric_name, over)))} "
            "stands upside down on one side of it."
        )


@dataclass(frozen=True)
class _Doing:
    """A step with what is sewn in it, and what to put in or use."""

    step: Step
    sewing: StepSewing | None
    notes: tuple[str, ...]


def _notes(
    made: Made, sewn: Sequence[StepSewing], have: Sequence[Supply]
) -> Iterator[tuple[int, str]]:
    """What to put in or to use, by the number of the step that says so."""
    yield from to_put_in(sewn).items()
    if any(one.name == "pressing-cloth" for one in have):
        for step in made.project.steps:
            if step.act is Act.PRESS:
                yield step.number, "Lay the pressing cloth under the iron."


def _block(
    made: Made, scene: Scene, doing: _Doing, sheet: FramedPicture, room: _Rooms
) -> StepBlock:
    step, sewing = doing.step, doing.sewing
    tape_on = sum(
        len(past.tape) for past in taped_before(scene, step) if step.takes_tape_off(past.taped)
    )
    thick, near_zip = (sewing.thick, sewing.near_zip) if sewing else (False, False)
    where = CautionPlace(made.project, "step", step, thick, near_zip)
    return StepBlock(
        number=step.number,
        stop=step.stop,
        colour=stop_colour(step),
        colour_name=_COLOUR_NAMES.get(step.colour or "", ""),
        title=step.title,
        about=" ".join(_about(made, scene, step, sewing)),
        say=step.say,
        notes=doing.notes,
        look=to_look_for(made, step, tape_on),
        cautions=cautions_at(where),
        picture=lettered(sheet, *room.of_step(sheet)),
        small=plain(sheet, *_SMALL),
    )


def _about(made: Made, scene: Scene, step: Step, sewing: StepSewing | None) -> Iterator[str]:
    in_hoop = scene.state(step) is State.IN_THE_HOOP
    yield _SEEN[step.seen_from] if in_hoop else shown_state(scene, step)
    if sewing is None:
        return
    if sewing.stop is not None:
        count = sum(one.stitch_count for one in made.sewn if one.stop == sewing.stop)
        through = f" through {sewing.through}" if sewing.through else ""
        yield f"{count} stitches{through}, {sewing.needle}."
    elif sewing.layers:
        through = f"Through {sewing.through}, " if sewing.through else ""
        yield f"{capital(through + sewing.needle)}."
