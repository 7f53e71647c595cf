"""Whether what is pulled over, or stands out, lies where it can be, and a step pulls it over."""

from collections.abc import Iterator

from paramgen.finished.finished_thing import FinishedThing
from paramgen.finished.flaps import FlapSide, walls
from paramgen.vocabulary.facts import Term, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import Act, NotionSort


def pulling(thing: FinishedThing) -> Iterator[Finding]:
    """Find what is to go elsewhere and is no flap, flaps no step pulls, steps with none to pull."""
    if not walls(thing.done):
        return
    not_flaps = list(_not_flaps(thing))
    yield from not_flaps
    yield from _tails(thing)
    steps = [step for step in thing.project.steps if step.act is Act.PULL_OVER]
    over = {flap.piece: flap for flap in thing.flaps if flap.lies is FlapSide.CLOSING}
    turns = [step for step in thing.project.steps if step.act is Act.TURN]
    for flap in over.values() if turns and not steps else ():  # never turned is told as such
        turned = turns[-1]
        yield Finding(
            "never-pulled-over",
            Severity.CANNOT,
            facts(piece=flap.called, step=turned.called),
            step=turned.number,
            piece=flap.piece,
        )
    for step in steps if not (over or not_flaps) else ():
        yield Finding(
            "nothing-to-pull-over",
            Severity.CANNOT,
            facts(step=step.called),
            step=step.number,
        )


def _tails(thing: FinishedThing) -> Iterator[Finding]:
    """Ribbons laid flat and caught at one end: a tail, where a loop may have been meant."""
    strips = {
        one.name
        for one in thing.project.notions
        if one.sort in (NotionSort.RIBBON, NotionSort.ELASTIC)
    }
    for flap in thing.flaps:
        if flap.piece in strips and flap.rim.geom_type == "LineString" and not flap.rim.is_empty:
            yield Finding(
                "ribbon-is-a-tail",
                Severity.KNOW,
                facts(piece=flap.called),
                step=flap.step,
                piece=flap.piece,
            )


def _not_flaps(thing: FinishedThing) -> Iterator[Finding]:
    """Pieces that are to be pulled over or to stand out and do not lie between the two walls."""
    finish, steps = thing.project.finish, thing.project.steps
    laid = {layer.piece: (layer, step) for step in steps for layer in step.layers}
    work, closing = (laid[name][0].called for name in (finish.work, finish.closing[0]))
    book = {flap.piece for flap in thing.flaps}
    for names, lies in ((finish.pulled_over, "closing"), (finish.stands_out, "out")):
        for name in names:
            if name in book:
                continue
            layer, step = laid[name]
            yield Finding(
                "not-between",
                Severity.CANNOT,
                facts(
                    piece=layer.called,
                    step=step.called,
                    goes=Term("flap", lies),
                    work=work,
                    closing=closing,
                ),
                step=step.number,
                piece=name,
            )
