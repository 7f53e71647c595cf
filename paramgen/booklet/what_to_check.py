"""What to look for at each step, what was found, and what may go wrong with the whole."""

from collections.abc import Iterator

from paramgen.booklet.said import Notice, Trouble
from paramgen.booklet.word_setting import capital, sentence
from paramgen.drawings.front_end.facing_sides import fold_sides
from paramgen.drawings.primitives.paragraphs import listed
from paramgen.finished.gap_closing import closings
from paramgen.finished.turned_curves import tight
from paramgen.layout.turning_gaps import gaps_in, is_open_edge
from paramgen.making import Made
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Act, FinishWay, NotionSort, Role, Side
from paramgen.vocabulary.project import Project, Step
from paramgen.wording.say import said

_ACTS = {
    Act.FLIP: "The stabiliser is still tight in the hoop, and nothing has shifted or folded under.",
    Act.OPEN_ZIP: "The slider stands well inside the seam line, away from every line to come.",
    Act.UNHOOP: "No thread joins the work any longer to what you tear off.",
    Act.TEAR: "No stitch is pulled and no fabric cut; to tear, hold the line and tear towards it.",
    Act.FINGER_PRESS: "The edge is flat all round, and no seam rolls in.",
    Act.CLIP: "The cuts come close to the stitching and go through none of it.",
    Act.FOLD: "The fold is straight and lies where the picture shows it.",
    Act.FUSE: "It holds all over, at its corners too, once it has cooled.",
    Act.EDGE_STITCH: "The stitching runs beside its edge all the way and has not slipped off.",
    Act.TOP_STITCH: "The stitching runs beside its edge all the way and has not slipped off.",
    Act.BOX: "The two seams lie on each other in the middle, and both corners are as deep.",
    Act.BIND: "The raw edge is shut in all along, and so are the ends of the binding.",
    Act.PUT_IN: "It goes in without force, and no seam pulls.",
    Act.HAND_SEW: "The stitches are small and close together, and the two do not gape.",
}
#: A line sewn up to where it is cut comes so near to it, mm: a step of the grid of stitch files.
_MEETS = 0.1
#: Of what goes through both halves of what is folded at once.
_BOTH_HALVES = {
    NotionSort.RIVET: "The caps sit tight on both sides, and the layers do not shift between them.",
    NotionSort.CLAMP: "The clamp sits straight, and both ends stay in it when you pull.",
}
#: What is not torn off but cut off, as it is washed out.
_CUT_OFF = "No thread joins the work any longer to what you cut off."
_CLOSED = "The gap is closed: both its sides are caught."
_BOUND = "The edge that was open is caught all along, both its layers."


def to_look_for(made: Made, step: Step, tape_on: int) -> tuple[str, ...]:
    """Say what to look for when a step is done.

    Parameters
    ----------
    made : Made
    step : Step
    tape_on : int
        Strips of tape that are still on when it begins.
    """
    return tuple(_looks(made.project, step, tape_on, _closing(made)))


def _closing(made: Made) -> int:
    """Number of the step that closes the turning gap; 0 where there is none."""
    closing = closings(made.thing) if made.thing.done.plane.gaps else ()
    by_hand = [step.number for step in closing if step.act is Act.HAND_SEW]
    return min(by_hand or [step.number for step in closing], default=0)


def _looks(project: Project, step: Step, tape_on: int, closing: int) -> Iterator[str]:
    if step.act is Act.STITCH:
        yield from _stitched(project, step)
    elif step.act is Act.LAY:
        yield from _laid(step)
    elif step.act is Act.TAPE:
        following = next((s for s in project.steps[step.number :] if s.lines), None)
        if following:
            yield f"No tape lies where stop {following.stop} will stitch."
    elif step.act is Act.UNTAPE:
        strips = "1 strip comes" if tape_on == 1 else f"{tape_on} strips come"
        yield f"{strips} off; none stays under a line." if tape_on else "No tape is left."
    elif step.act is Act.TURN:
        yield _turned(project, step)
    elif step.act is Act.PRESS:
        level = step.number < closing and not _stays_open(project)
        gap = ", and the two sides of the gap lie level" if level else ""
        yield f"The edge is flat all round{gap}."
    elif step.act is Act.TRIM:
        yield _trimmed(project, step)
    elif step.act is Act.FASTEN:
        yield from _fastened(project, step)
    elif step.act is Act.UNHOOP and _comes(project, step, Act.WASH_OUT):
        yield _CUT_OFF
    elif step.act in _ACTS:
        yield _ACTS[step.act]
    if step.number == closing:
        yield _BOUND if _stays_open(project) else _CLOSED


def _stays_open(project: Project) -> bool:
    """Whether it was turned through an edge that the seam leaves open from corner to corner."""
    gaps = gaps_in(project, (project.seam,))
    return bool(gaps) and all(is_open_edge(project.seam, gap.line) for gap in gaps)


def _trimmed(project: Project, step: Step) -> str:
    sewn = (
        path for past in project.steps[: step.number] for one in past.lines for path in one.paths
    )
    marks = [mark.line for mark in step.mark]
    crossed = any(path.line.dwithin(mark, _MEETS) for path in sewn for mark in marks)
    but = " but of lines that end at it or cross it" if crossed else ""
    return f"The cut runs smoothly along the line, and no stitch is cut{but}."


def _fastened(project: Project, step: Step) -> Iterator[str]:
    sorts = {notion.sort for notion in project.notions if notion.halves}
    halves = sorts - set(_BOTH_HALVES)
    # Where each half has a step of its own they can meet only at the last.
    more = any(later.act is Act.FASTEN for later in project.steps[step.number :])
    if halves and not more:
        yield "The two halves meet without pulling the fabric."
    yield from (look for sort, look in _BOTH_HALVES.items() if sort in sorts)
    if more or any(notion.at for notion in project.notions):
        yield "What is fitted lies flat on both sides and cuts no stitch."


def _laid(step: Step) -> Iterator[str]:
    titles = dict.fromkeys(layer.title for layer in step.layers)
    for title in titles:
        layers = [layer for layer in step.layers if layer.title == title]
        edged = [side for layer in layers for side in fold_sides(layer, step.seen_from)]
        folds = list(dict.fromkeys(edged))  # several copies are folded alike
        if folds:
            edges = "edge is" if len(edged) == 1 else "edges are"
            yield f"{capital(title)}: the folded {edges} straight, at the {listed(folds)}."
    if not any(fold_sides(layer, step.seen_from) for layer in step.layers):
        yield "It lies flat, without a wrinkle."


def _stitched(project: Project, step: Step) -> Iterator[str]:
    roles = {line.role for line in step.lines}
    behind = [
        layer.title
        for past in project.steps[: step.number]
        for layer in past.layers
        if layer.side is Side.BACK
    ]
    if Role.PLACEMENT in roles:
        yield "The lines are complete, and the stabiliser is flat and tight."
    if Role.TACK_DOWN in roles:
        yield (
            "Every edge that the line should hold is caught, and nothing has been pushed out of "
            "place."
        )
    elif Role.BASTING in roles:  # through the middle of what it holds, or anywhere
        yield "It lies straight and flat, and nothing has been pushed out of place."
    if any(step.number in one.steps for one in project.embellishments):
        if Role.TOP_STITCH in roles:
            yield "The panel lies flat, without a pleat or a bubble between the lines."
    elif Role.TOP_STITCH in roles:
        yield "The stitching runs beside its edge all the way and has not slipped off."
    if Role.SEAM in roles:
        yield "The line is complete and no stitch is skipped where it is thick."
    if Role.OVERCAST in roles:
        yield "The zigzag runs beside the seam all the way and touches it nowhere."
    if behind and not roles <= {Role.PLACEMENT}:
        pieces = list(dict.fromkeys(behind))
        lie = "lies flat and has" if len(pieces) == 1 else "lie flat and have"
        named = [one if one[-1:].isdigit() else f"the {one}" for one in pieces]
        yield f"Under the hoop {listed(named)} {lie} not folded over."


def _turned(project: Project, step: Step) -> str:
    if _comes(project, step, Act.TURN):  # it is not yet right side out
        return "Nothing is caught inside."
    pushed = "The corners are" if has_corners(project) else "The edge is"
    return f"{pushed} pushed out and nothing is caught inside."


def _comes(project: Project, step: Step, act: Act) -> bool:
    return any(later.act is act for later in project.steps[step.number :])


def has_corners(project: Project) -> bool:
    """Whether the seam turns anywhere, and does not only curve."""
    return len(project.seam.corners) > 0


#: Findings about what was asked for, and in which hoop; where it lies turned, the troubles say what
#: then to mind.
_OF_THE_ORDER = ("turned-in-hoop", "most-copies", "hoop-in-turn")


def notices(made: Made, severity: Severity) -> tuple[Notice, ...]:
    """What was found about the thing itself, as bad as that."""
    found = (one for one in made.project.findings if one.severity is severity)
    told = (one for one in found if one.code not in _OF_THE_ORDER)
    return tuple(_notice(made.project, one) for one in told)


def _notice(project: Project, finding: Finding) -> Notice:
    step = next((step for step in project.steps if step.number == finding.step), None)
    where = f"At step {step.number}, {step.title}." if step else ""
    message, remedy = said(finding, project.unit)
    return Notice(sentence(message), where, remedy)


def troubles(made: Made) -> tuple[Trouble, ...]:
    """What may go wrong with any project of such layers."""
    return tuple(_general(made))


def _general(made: Made) -> Iterator[Trouble]:
    project = made.project
    acts = {step.act for step in project.steps}
    if Act.OPEN_ZIP in acts:
        yield Trouble(
            "The slider is left outside the seam line and cut off.",
            "Before the seam, feel for the slider inside the box.",
            "Pull it to the middle of the work before the sides are stitched.",
        )
    if Act.FLIP in acts:
        yield Trouble(
            "A piece on the back of the hoop folds under and is caught.",
            "Look under the hoop before and after each stop.",
            "Tape it at all its edges; unpick at once what is caught.",
        )
    if Act.TAPE in acts:
        yield Trouble(
            "Tape is stitched over and gums up the needle.",
            "Thread frays, stitches are skipped.",
            "Clean or change the needle, and pull the tape out along the line.",
        )
    last = [step for step in project.steps if any(line.role is Role.SEAM for line in step.lines)]
    if last and project.finish.way is FinishWay.TURNED:
        yield Trouble(
            "The seam misses a layer, and after turning there is a hole.",
            "Before you take the work out of the hoop, look along the seam on both sides.",
            f"Run stop {last[-1].stop} once more while the work is still in the hoop.",
        )
        yield from _edges(project)
    if project.finish.way is FinishWay.RAW_EDGE and last:
        yield Trouble(
            "An edge of a layer ends short of the last line.",
            "Before you take the work out of the hoop, look along the line on both sides.",
            f"Run stop {last[-1].stop} once more with the layer taped in place.",
        )
    if any(piece.creases for piece in project.pieces):
        yield Trouble(
            "A folded piece comes out too narrow or too wide.",
            "Measure it against the cut list before it is laid.",
            "Press the fold again; cut anew if it is more than 1 mm out.",
        )
    yield Trouble(
        "The stabiliser slackens, and the lines no longer meet.",
        "A line does not end where it began.",
        "Hoop it tight as a drum, and never pull on the work in the hoop.",
    )
    if any(where.turned for where in project.placed):
        some = "It lies" if project.turned else "Some copies lie"
        yield Trouble(
            "A piece is laid the wrong way round.",
            "It does not meet its lines, or its print stands on its side.",
            f"{some} turned by 90° in the hoop, the top at the right: go by the pictures, which "
            "show it so.",
        )


def _edges(project: Project) -> Iterator[Trouble]:
    """Of corners and curves, turned, what does not come out; of those there are."""
    if project.depth:
        yield Trouble(
            "The bottom stands askew.",
            "A side seam does not lie on the bottom seam where they are sewn across, or one corner "
            "is deeper than the other.",
            "Unpick that seam, push a pin through both seams, and measure from the tip along them.",
        )
    if has_corners(project):
        yield Trouble(
            "A corner does not come out.",
            "It stays round and hard.",
            "Turn it back, trim the allowance closer and cut the corner off again; use a blunt "
            "point.",
        )
    if not has_corners(project) or tight(project.seam, outward=True).any():
        yield Trouble(
            "A curve does not come out smooth.",
            "Its edge has dents or points.",
            "Turn it back, trim the allowance closer and cut more V's between the first ones, "
            "close to the stitching; push the edge out from inside and press.",
        )
    if tight(project.seam, outward=False).any():
        yield Trouble(
            "A curve that runs inward pulls.",
            "Its edge puckers and does not lie flat.",
            "Turn it back and clip the allowance at shorter distances, close to the stitching; "
            "press it from inside.",
        )
