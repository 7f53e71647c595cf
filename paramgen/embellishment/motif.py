"""A motif of one's own from a stitch file: placed, turned, mirrored, a tenth larger or smaller."""

from types import MappingProxyType

import numpy as np

from paramgen.embellishment.embellishment_kind import (
    EmbellishmentKind,
    FreeGround,
    Worked,
    stop_to_stitch,
)
from paramgen.embellishment.ground_findings import no_room
from paramgen.embellishment.kind_options import (
    Embellishment,
    MeasureOption,
    TextOption,
    WordOption,
)
from paramgen.embellishment.motif_stitches import (
    LARGEST,
    MOST_NEEDLES,
    MOST_RUNS,
    SMALLEST,
    MotifStitches,
    placed_runs,
)
from paramgen.embellishment.place_on_ground import PLACING, TURN, largest_alike, place_for, taken_by
from paramgen.embellishment.satin_rungs import LEAST_RUNG
from paramgen.vocabulary.facts import Mm, Name, facts
from paramgen.vocabulary.findings import Finding, Severity
from paramgen.vocabulary.kinds import StitchKind
from paramgen.vocabulary.path import FloatArray, Path
from paramgen.vocabulary.project import Step, Stitch

FILE = TextOption(name="file", means="the stitch file it is in, in quotes", longest=300)
SIZE = MeasureOption(
    name="percent",
    means="of its own size",
    default=100.0,
    least=SMALLEST,
    most=LARGEST,
    plain=True,
)
WAY_ROUND = WordOption(
    name="way round",
    words=MappingProxyType(
        {"as it is": "as it stands in its file", "mirrored": "left and right changed"}
    ),
    also=MappingProxyType({"mirror": "mirrored", "flipped": "mirrored"}),
)


def motif(asked: Embellishment, ground: FreeGround) -> Worked:
    """Stitch a motif on a panel."""
    read = asked.motif
    if read is None:
        return Worked(findings=(_refused(ground, "not-read", asked.words_of(FILE)),))
    stops = placed_runs(
        read,
        percent=asked.measure(SIZE) or 100.0,
        turn=asked.measure(TURN) or 0.0,
        mirrored=asked.word(WAY_ROUND) == "mirrored",
    )
    runs = [run for stop in stops for run in stop]
    if len(runs) > MOST_RUNS or sum(len(run) for run in runs) > MOST_NEEDLES:
        return Worked(findings=(_refused(ground, "too-much", read.name),))
    if not runs:
        return Worked(findings=(_refused(ground, "too-fine", read.name),))
    points = np.concatenate(runs)
    low, high = points.min(axis=0), points.max(axis=0)
    size = (float(high[0] - low[0]), float(high[1] - low[1]))
    middle = place_for(asked, ground, size)
    if middle is None:
        return Worked(
            findings=(
                no_room(
                    asked,
                    ground,
                    what=f"the motif {read.name}",
                    needs=size,
                    has=largest_alike(ground.area, size),
                ),
            )
        )
    by = np.array(middle) - (low + high) / 2
    steps = tuple(
        _step(read, number, [run + by for run in stop], ground)
        for number, stop in enumerate(stops)
        if stop
    )
    return Worked(steps=steps, taken=taken_by(middle, size))


def _step(read: MotifStitches, number: int, runs: list[FloatArray], ground: FreeGround) -> Step:
    """One stop of it."""
    of = f", {number + 1} of {len(read.stops)}" if len(read.stops) > 1 else ""
    colour = read.stops[number].colour
    thread = f" Its thread was {colour} in the file." if colour else ""
    return stop_to_stitch(
        f"Stitch the motif{of}",
        f"Stitch the motif {read.name} on the {ground.title}{of}.{thread}",
        "motif",
        tuple(Path(run, False) for run in runs),
        Stitch(StitchKind.AS_DRAWN, 2.0),
        called=f"motif on the {ground.title}",
    )


def _refused(ground: FreeGround, why: str, name: str) -> Finding:
    return Finding(
        "motif-refused",
        Severity.CANNOT,
        facts(
            what=Name("file", name, name) if name else None,
            panel=ground.panel.called,
            stitches=MOST_NEEDLES,
            runs=MOST_RUNS,
            least=Mm(LEAST_RUNG),
        ),
        variant=why if name else "no-file",
        piece=ground.panel.piece,
    )


MOTIF = EmbellishmentKind(
    name="motif",
    means="a motif of one's own, from a stitch file",
    options=(FILE, SIZE, WAY_ROUND, *PLACING),
    work=motif,
)
