"""Everything that is found about a project, from its first step to the finished thing."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, islice

from paramgen.finished.bulk import bulk
from paramgen.finished.covered_openings import covered
from paramgen.finished.finished_thing import FinishedThing, finish
from paramgen.finished.fold_room import crowding, folding
from paramgen.finished.gap_closing import gap
from paramgen.finished.hardware import hardware
from paramgen.finished.held_things import contents
from paramgen.finished.loops import loops, strips
from paramgen.finished.pulled_flaps import pulling
from paramgen.finished.thread_that_shows import thread
from paramgen.finished.turned_curves import curves
from paramgen.finished.wrong_sides import faces
from paramgen.rehearsal.density import density
from paramgen.rehearsal.outside_hollow import work_through
from paramgen.rehearsal.rehearse import rehearsed, rehearsed_beside, worst_first
from paramgen.stitches.needle_points import SewnStep
from paramgen.vocabulary.findings import CannotMakeError, Finding
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.project import Project


@dataclass(frozen=True)
class Proven:
    """What was found, and the finished thing.

    Parameters
    ----------
    findings : tuple of Finding
        Worst first, then in the order of the steps.
    thing : FinishedThing
    """

    findings: tuple[Finding, ...]
    thing: FinishedThing


class Examined:
    """A project rehearsed and turned out, of which no more is found than was asked for.

    What is found is kept, and gone on with when more is asked for. The finished thing comes first:
    sizes that do not do mostly fail there.

    Parameters
    ----------
    project : Project
        Laid out with curves no finer than they need be, see `COARSE`.
    """

    def __init__(self, project: Project) -> None:
        done = work_through(project)
        self.thing = finish(done)
        self._finished = FoundSoFar(_finished(self.thing))
        self._rehearsed = FoundSoFar(rehearsed(done))

    @property
    def first_stop(self) -> tuple[Finding, ...]:
        """The first that is found and stops it, if any does: known sooner than all that do."""
        looked_for = chain(self._finished, self._rehearsed)
        return tuple(islice((one for one in looked_for if one.stops), 1))

    @property
    def stops(self) -> tuple[Finding, ...]:
        """Everything that is found and stops it: known sooner than all that is found.

        What never stops it is not looked for, nor does anything follow from that.
        """
        found = _causes([*self._rehearsed, *self._finished])
        return worst_first(one for one in found if one.stops)

    def all_found(self, sewn: Sequence[SewnStep] = ()) -> tuple[Finding, ...]:
        """Everything that is found, worst first, then in the order of the steps."""
        thing = self.thing
        found = [
            *rehearsed_beside(thing.done),
            *self._rehearsed,
            *self._finished,
            *crowding(thing),
            *curves(thing),
            *density(sewn, thing.project),
        ]
        return worst_first(_causes(found))


class FoundSoFar(Iterable[Finding]):
    """Findings as they are looked for: nothing is looked for twice, nor before it is asked for.

    Examples
    --------
    >>> from paramgen.vocabulary.findings import Severity
    >>> looked = iter([Finding("thin", Severity.KNOW), Finding("thick", Severity.CANNOT)])
    >>> found = FoundSoFar(looked)
    >>> next(iter(found)).code, [one.code for one in looked]  # the other was not looked for
    ('thin', ['thick'])
    """

    def __init__(self, looking: Iterator[Finding]) -> None:
        self._looking = looking
        self._found: list[Finding] = []
        self._ended: CannotMakeError | None = None

    def __iter__(self) -> Iterator[Finding]:
        """All findings, those that are known first; raises again what ended the looking."""
        yield from self._found
        if self._ended is not None:
            raise self._ended
        try:
            for one in self._looking:
                self._found.append(one)
                yield one
        except CannotMakeError as problem:
            self._ended = problem
            raise


def prove(project: Project, sewn: Sequence[SewnStep] = ()) -> Proven:
    """Rehearse a project and turn it out.

    Parameters
    ----------
    project : Project
        Laid out with curves no finer than they need be, see `COARSE`.
    sewn : sequence of SewnStep
        Its stitches, where the project lies; without them nothing is said of single ones.
    """
    examined = Examined(project)
    return Proven(examined.all_found(sewn), examined.thing)


def _finished(thing: FinishedThing) -> Iterator[Finding]:
    """Find what may stop the finished thing, and whatever is found with it."""
    yield from faces(thing)
    yield from pulling(thing)
    yield from loops(thing)
    yield from strips(thing.project)
    yield from covered(thing)
    yield from contents(thing)
    yield from folding(thing)
    yield from gap(thing)
    yield from bulk(thing)
    yield from hardware(thing)
    yield from thread(thing)


#: What follows from another finding about the same piece is not said again. All of those others
#: stop the project.
FOLLOWS = {
    "raw-edge-shows": ("opens-inside", "fold-in-seam"),
    "edge-not-held": ("opens-inside", "raw-edge-shows", "needle-misses", "loose"),
    "loose-on-the-face": ("zip-covered",),
    "sewn-shut": ("sewn-to-outside",),
    "flap-cannot-stand-out": ("needle-misses", "loose"),
    "zip-covered": ("flap-cannot-stand-out", "flap-trapped"),
    "does-not-fit": ("sewn-to-outside",),
    "held-too-little": ("sewn-to-outside",),
    "not-secured": ("needle-misses", "taped-before-laid"),
    "not-taped": ("needle-misses", "taped-before-laid"),
}


def _causes(found: Sequence[Finding]) -> list[Finding]:
    """Leave out what only follows from another finding."""
    codes = {(one.piece, one.code) for one in found}
    kept: list[Finding] = []
    for one in found:
        follows = any((one.piece, cause) in codes for cause in FOLLOWS.get(one.code, ()))
        again = (
            one.piece
            and one.code == "sewn-shut"
            and any((other.code, other.piece) == (one.code, one.piece) for other in kept)
        )
        if not follows and not again:
            kept.append(one)
    return kept
