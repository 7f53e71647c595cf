"""The one place that knows the stitch library.

What the library does with each kind of file was measured and is held by tests; the
comments below say which of its habits a line is there for.

It puts a pattern into a machine's terms once for all formats with the same limits: no writer
changes what it is given, and tests hold it to that.
"""

from collections.abc import Callable, Sequence
from functools import lru_cache
from io import BytesIO, StringIO
from typing import Any

import numpy as np
import pyembroidery as pe

from paramgen.files.dst_header import with_true_extents
from paramgen.files.file_label import safe_label
from paramgen.files.formats import Format
from paramgen.files.readback import ReadStep, needles_of
from paramgen.stitches.needle_points import GridArray, SewnStep
from paramgen.vocabulary.frozen_data import dataclass

#: JEF files hold the time they were made; the same project must give the same bytes.
_JEF_DATE = "20000101000000"


@dataclass(frozen=True)
class _Codec:
    """The library's writer and reader of a kind of file, and the settings of the writer."""

    write: Callable[..., None]
    read: Callable[..., Any]
    settings: tuple[tuple[str, Any], ...] = ()


#: CSV and JSON are written as given unless told to `encode`, that is, to put every command
#: where the needle is. There are no sequins; what becomes of them is said so that both files
#: are encoded alike.
_AS_MACHINES = (("encode", True), ("sequin_contingency", pe.CONTINGENCY_SEQUIN_UTILIZE))

#: What the library encodes by; no other setting is ever given.
_LIMITS = ("max_stitch", "max_jump", "full_jump", "round", "sequin_contingency")

#: An unknown PES version would give an empty file.
_CODECS = {
    "dst": _Codec(pe.write_dst, pe.read_dst),
    "exp": _Codec(pe.write_exp, pe.read_exp),
    "pes": _Codec(pe.write_pes, pe.read_pes, (("version", 6),)),
    "pes1": _Codec(pe.write_pes, pe.read_pes, (("version", 1),)),
    "jef": _Codec(pe.write_jef, pe.read_jef, (("date", _JEF_DATE),)),
    "vp3": _Codec(pe.write_vp3, pe.read_vp3),
    "xxx": _Codec(pe.write_xxx, pe.read_xxx),
    "csv": _Codec(pe.write_csv, pe.read_csv, _AS_MACHINES),
    "json": _Codec(pe.write_json, pe.read_json, _AS_MACHINES),
}


class _Pattern(pe.EmbPattern):  # type: ignore[misc]
    """A pattern that is put into a machine's terms once for all files with the same limits.

    That takes the library about half of the time of a file.
    """

    def __init__(self) -> None:
        super().__init__()
        self._ready: dict[tuple[Any, ...], Any] = {}

    def get_normalized_pattern(self, encode_settings: Any = None) -> Any:
        """Answer a writer of the library that asks for the commands of its kind of machine."""
        limits = tuple((encode_settings or {}).get(name) for name in _LIMITS)
        if limits not in self._ready:
            self._ready[limits] = super().get_normalized_pattern(encode_settings)
        ready = self._ready[limits].copy()
        ready.extras = dict(self.extras)
        return ready


def encode(steps: Sequence[SewnStep], kind: Format, label: str) -> bytes:
    """Write steps that the format can carry.

    Parameters
    ----------
    steps : sequence of SewnStep
        At least one, each with at least one run, no two neighbours of one colour.
    kind : Format
        Any but `svg`.
    label : str
        The project's name; only what is safe of it is written.
    """
    codec = _CODECS[kind.name]
    pattern = _pattern(tuple(steps), centred=kind.name == "vp3")
    pattern.extras.clear()
    if kind.label_length:
        pattern.metadata("name", safe_label(label, kind.label_length))
    stream = StringIO() if kind.name == "json" else BytesIO()
    codec.write(pattern, stream, dict(codec.settings))
    written = stream.getvalue()
    data = written.encode("ascii") if isinstance(written, str) else written
    return with_true_extents(data, _needles(steps)) if kind.name == "dst" else data


# Kept for the next file of the same steps: one for VP3, one for all others.
@lru_cache(maxsize=2)
def _pattern(steps: tuple[SewnStep, ...], *, centred: bool) -> _Pattern:
    pattern = _Pattern()
    if centred:
        _centre_on_grid(pattern, _needles(steps))
    for step in steps:
        _add_step(pattern, step)
    pattern.add_command(pe.END)
    return pattern


def _needles(steps: Sequence[SewnStep]) -> GridArray:
    return np.concatenate([needles_of(step) for step in steps])


def _centre_on_grid(pattern: Any, needles: GridArray) -> None:
    """Move once to just outside the needle points, so that their box has even sides.

    VP3 places each step from the middle of the box and drops the fraction, so a middle
    between two grid points shifts the steps. VP3 has no moves: this one counts in the box
    and leaves no other trace.
    """
    low = needles.min(axis=0)
    odd = (needles.max(axis=0) - low) % 2
    pattern.add_stitch_absolute(pe.JUMP, *(low - odd).tolist())


def _add_step(pattern: Any, step: SewnStep) -> None:
    """Add a step: its thread, and its runs with a move to each and a cut after each.

    The library makes up a thread where one is missing, by chance. Threads are described
    by their colour alone, as PES has 64 colours to choose from and gives each
    *differently described* thread one of its own.
    """
    # A break becomes a change of colour only between stitches, so never an empty step.
    pattern.add_command(pe.COLOR_BREAK)
    pattern.add_thread(pe.EmbThread(step.colour, step.colour.lower()))
    for run in step.runs:
        points = run.needles.tolist()
        # To the very start: XXX reads a first stitch of the longest kind as a move.
        pattern.add_stitch_absolute(pe.JUMP, *points[0])
        # As `add_stitch_absolute` does, which takes four times as long for each.
        pattern.stitches.extend([x, y, pe.STITCH] for x, y in points)
        pattern.add_command(pe.TRIM)


def read_back(data: bytes, kind: Format) -> tuple[ReadStep, ...]:
    """Read the steps and needle points of a file that `encode` wrote."""
    text = kind.name in ("csv", "json")
    pattern = _CODECS[kind.name].read(StringIO(data.decode("ascii")) if text else BytesIO(data))
    entries = np.array(pattern.stitches, dtype=np.float64)
    commands = entries[:, 2].astype(np.int64) & pe.COMMAND_MASK
    sewn = commands == pe.STITCH
    sewn_before_each_stop = np.cumsum(sewn)[commands == pe.COLOR_CHANGE]
    steps = np.split(entries[sewn, :2], sewn_before_each_stop)
    colours = [thread.hex_color() for thread in pattern.threadlist]
    colours += [""] * (len(steps) - len(colours))
    return tuple(ReadStep(needles, colour) for needles, colour in zip(steps, colours, strict=False))
