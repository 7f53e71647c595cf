"""Any stitch file there is a reader for, from anyone: read with care.

Beside `library.py` the only place that knows the stitch library. Its readers trust what they
read: they raise whatever goes wrong first, hand back what they had when the bytes ran out,
and some can be made to work for hours. So they get a stream that notes when it runs out, lists
that do not grow past a limit, and none of the library's own guesses at cuts, which take a time
that grows with the square of the moves.

HUS streams are unpacked once with every step counted, as theirs need not end. Whatever a reader
raises is one fault. Stitches are needle points less one for each run, in every kind of file, as VP3
has no moves and DST no cuts.
"""

from collections.abc import Callable, Iterable
from dataclasses import replace
from io import BytesIO, StringIO
from itertools import pairwise
from typing import Any

import numpy as np
import pyembroidery as pe
from numpy.typing import NDArray
from pyembroidery.EmbCompress import EmbCompress

from paramgen.files import needle_svg
from paramgen.files.file_ends import TEXTS, WITH_END_RECORD, FileEnd, end_of, foreign, looks_like
from paramgen.files.header_claims import FileAsRead, disagreement
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.frozen_data import dataclass

#: The largest file that is read, bytes, and the most records in it. A project in one hoop
#: has some thousand stitches, a dense picture 200,000 (common practice, no source).
LARGEST_FILE = 16_000_000
MOST_RECORDS = 500_000
#: Most colours; a byte counts them in most kinds.
_MOST_COLOURS = 4096
#: Nothing lies farther from where a file starts, tenths of a millimetre: 10 m.
_FARTHEST = 100_000.0

#: What a record is.
SEWN, MOVED, CUT, STOPPED, ENDED, OTHER = range(6)

_ACTS = {
    pe.STITCH: SEWN,
    pe.SEW_TO: SEWN,
    pe.NEEDLE_AT: SEWN,
    pe.JUMP: MOVED,
    pe.TRIM: CUT,
    pe.STOP: STOPPED,
    pe.COLOR_CHANGE: STOPPED,
    pe.COLOR_BREAK: STOPPED,
    pe.NEEDLE_SET: STOPPED,
    pe.END: ENDED,
}
#: Stops after which the next thread of the list is used.
_NEXT_THREAD = (pe.COLOR_CHANGE, pe.COLOR_BREAK, pe.NEEDLE_SET)

#: Kinds that say by three moves in a row or more that the thread is cut (common practice,
#: no source), and kinds that do not say it at all.
_CUT_BY_MOVES = ("dst", "tap", "exy", "e00", "e01", "e02")
_CUT_UNSAID = ("jef", "jpx", "sew", "max", "mit", "pmv", "spx", "100", "gcode")
_MOVES_OF_A_CUT = 3

#: Lists of colours, which the library reads too.
_COLOURS_ONLY = ("col", "edr", "inf")
#: Kinds that the library reads letter by letter, and the largest of those that is read.
_LARGEST_BY_LETTER = 4_000_000
_BY_LETTER = ("gcode", "g-code", "ngc", "nc", "g")
#: Kinds that keep every colour; PES from this version on (from memory).
_EXACT_COLOURS = ("vp3", "xxx", "csv", "json", "svg")
_EXACT_PES = b"0050"

#: No cut is to be made of moves, nor any move left out.
_AS_IT_IS = {"trim_at": None, "trim_distance": None, "clipping": False}

_COPY = "Copy it anew from where it came from, or write it anew with what made it."


def _readers() -> dict[str, Any]:
    """The library's readers by the endings of the files they read."""
    found = {}
    for kind in pe.EmbPattern.supported_formats():
        more = kind["extensions"]
        for ending in (kind["extension"], *((more,) if isinstance(more, str) else more)):
            name = ending.removeprefix(".")
            if "reader" in kind and name not in _COLOURS_ONLY:
                found[name] = kind["reader"]
    return found


_READERS = _readers()

#: Endings of the names of files that can be read, without the dot.
READABLE = tuple(sorted({*_READERS, "svg"}))


@dataclass(frozen=True, eq=False, kw_only=True)
class Records:
    """What a stitch file holds, record by record.

    Parameters
    ----------
    kind : str
        As its name ends, in small letters.
    places : array of float, shape (n, 2)
        Where the needle is after each record, in tenths of a millimetre, x right and y
        down; not rounded.
    acts : array of int, shape (n,)
        What each record is: `SEWN` where the needle goes down, `MOVED`, `CUT`, `STOPPED`,
        `ENDED` or `OTHER`.
    colours : tuple of str
        `#rrggbb` of the thread from the start and after each stop; empty where it has none.
    exact_colours : bool
        Whether its kind keeps any colour as it is, and not the nearest of a chart.
    says_cuts : bool
        Whether its kind says where the thread is cut.
    end : FileEnd
    """

    kind: str
    places: NDArray[np.float64]
    acts: NDArray[np.int64]
    colours: tuple[str, ...]
    exact_colours: bool
    says_cuts: bool
    end: FileEnd


def read_records(data: bytes, name: str) -> Records:
    """Read a stitch file of any kind there is a reader for.

    Parameters
    ----------
    data : bytes
        All of it, or one byte more than `LARGEST_FILE`.
    name : str
        The file's name: its ending says its kind, and faults are told of it.

    Raises
    ------
    InputError
        If it is empty, too large, of no known kind, not what its ending says, cut short or
        damaged, or holds no stitch.
    """
    kind = _kind(data, name)
    if strange := foreign(data, kind):
        what, hint = strange
        raise _fault(name, f"this is {what}", hint)
    end = end_of(data, kind)
    if end.whole is False:
        raise _fault(name, f"it is cut short or damaged: {end.said}")
    if kind == "svg":
        records = _from_svg(data, name)
    else:
        pattern, ran_out = _read(data, kind, name)
        if kind in WITH_END_RECORD and ran_out:
            text = f"it stops at byte {len(data)} without the end record of a {kind} file"
            raise _fault(name, f"it is cut short or damaged: {text}")
        records = _records(pattern, kind, end, name)
        if kind == "pes":
            records = replace(records, exact_colours=_EXACT_PES <= data[4:8] <= b"9999")
        if kind in WITH_END_RECORD or (kind in TEXTS and ENDED in records.acts):
            records = replace(records, end=FileEnd(True, "it has its end record"))
        elif kind == "csv":
            raise _fault(name, "it is cut short: its last row is not END")
    if not (records.acts == SEWN).any():
        raise _fault(name, "it holds no stitch")
    if not np.isfinite(records.places).all():
        raise _fault(name, "it is damaged: it holds places that are no numbers")
    if np.abs(records.places).max() > _FARTHEST:
        raise _fault(name, "it is damaged: it leads more than 10 m away from where it starts")
    return _believed(records, data)


def _believed(records: Records, data: bytes) -> Records:
    """Records of which it is not said that all are there, if the header says otherwise."""
    sewn = records.acts == SEWN
    if not (sewn[1:] & sewn[:-1]).any():
        text = "there are no two needle points with a stitch between them: is it of another kind?"
        return replace(records, end=FileEnd(None, text))
    found = FileAsRead(records.places, records.places[sewn], int((records.acts == STOPPED).sum()))
    other = disagreement(data, records.kind, found)
    if not other:
        return records
    text = f"{other}; one of both was changed after it was written"
    return replace(records, end=FileEnd(None, text))


def _fault(name: str, text: str, hint: str = _COPY) -> InputError:
    return InputError([Fault(text, name, hint=hint)])


def _kind(data: bytes, name: str) -> str:
    """Kind of a file by its ending, once its size and its ending are known to do."""
    _, dot, ending = name.rpartition(".")
    kind = ending.lower() if dot else ""
    if not data:
        raise _fault(name, "it is empty: there is not one byte in it")
    most = _LARGEST_BY_LETTER if kind in _BY_LETTER else LARGEST_FILE
    if len(data) > most:
        text = f"it is larger than {most // 1_000_000} MB, more than is read of such a file"
        raise _fault(name, text, "Give the stitch file itself.")
    if kind in READABLE:
        return kind
    if kind in _COLOURS_ONLY:
        text = f".{kind} files are lists of colours; they hold no stitch"
        raise _fault(name, text, "Give the stitch file that it belongs to.")
    if head := looks_like(data):
        text = f"its name has no ending of a stitch file, but it begins as a {head} file does"
        raise _fault(name, text, f"Give it the ending .{head}.")
    text = f"`.{ending}` is no kind of stitch file known here" if dot else "its name has no ending"
    raise _fault(name, text, f"Known are {', '.join(READABLE)}.")


class _OverLimitError(Exception):
    """More of something than there may be; says what."""


class _Limited(list[Any]):
    """A list that does not grow past a limit."""

    def __init__(self, most: int, what: str) -> None:
        super().__init__()
        self._most, self._what = most, what

    def append(self, entry: Any) -> None:
        if len(self) >= self._most:
            raise _OverLimitError(f"more than {self._most:,} {self._what}")
        super().append(entry)


class _Watched(BytesIO):
    """Bytes that note whether more were asked for than there are."""

    ran_out = False

    def read(self, size: int | None = -1, /) -> bytes:
        found = super().read(size)
        if size is not None and len(found) < size:
            self.ran_out = True
        return found


def _read(data: bytes, kind: str, name: str) -> tuple[Any, bool]:
    """Let the library read, and say whether it asked for more bytes than there are."""
    pattern = pe.EmbPattern()
    pattern.stitches = _Limited(MOST_RECORDS, "records")
    pattern.threadlist = _Limited(_MOST_COLOURS, "colours")
    pattern.add_thread = _without_chance(pattern)
    stream = _Watched(data)
    try:
        if kind == "hus":
            _unpack_within_limits(data)
        reader = _READERS[kind]
        as_text = getattr(reader, "READ_FILE_IN_TEXT_MODE", False)
        reader.read(_opened(data) if as_text else stream, pattern, _AS_IT_IS)
    except _OverLimitError as problem:
        text = f"it holds {problem}, which no stitch file for one hoop does"
        raise _fault(name, text, "If it is whole, have it written in parts.") from None
    except Exception:  # the library raises whatever goes wrong first
        raise _fault(name, f"it is cut short, damaged or no {kind} file") from None
    return pattern, stream.ran_out


def _opened(data: bytes) -> StringIO:
    return StringIO(data.decode("utf-8-sig"))


def _without_chance(pattern: Any) -> Callable[[Any], None]:
    """Add threads as they are given, but no colour where one is to be drawn by chance."""
    add = pattern.add_thread

    def added(thread: Any) -> None:
        values = thread.values() if isinstance(thread, dict) else (thread,)
        if "random" in [one for one in values if isinstance(one, str)]:
            pattern.threadlist.append(None)
        else:
            add(thread)

    return added


#: Codes a stream of a HUS file may define anew, at most, and after how many values.
_LEAST_TABLES, _VALUES_PER_TABLE = 16, 64


def _unpack_within_limits(data: bytes) -> None:
    """Unpack a HUS file with a count of every step, before the library does without.

    Its three streams are packed so that a few bytes can stand for any number of values, or
    for endless work without one.
    """
    many, *offsets = (int.from_bytes(data[at : at + 4], "little") for at in (4, 20, 24, 28))
    if many > MOST_RECORDS:
        raise _OverLimitError(f"more than {MOST_RECORDS:,} records")
    for start, end in pairwise([*offsets, len(data)]):
        if not 0 < start < end <= len(data):
            raise ValueError("streams out of order")
        packed = EmbCompress()
        # Each value stands for one or more, so there are no more than that.
        packed.get_token = _counted(packed.get_token, many + 2)
        packed.load_block = _counted(packed.load_block, _LEAST_TABLES + many // _VALUES_PER_TABLE)
        if len(packed.decompress(bytearray(data[start:end]), many)) < many:
            raise ValueError("a stream that is too short")


def _counted(act: Callable[[], Any], most: int) -> Callable[[], Any]:
    left = iter(range(most))

    def counted() -> Any:
        if next(left, None) is None:
            raise ValueError("more steps than there can be")
        return act()

    return counted


def _records(pattern: Any, kind: str, end: FileEnd, name: str) -> Records:
    """Take over what the library read, once it is seen to be numbers."""
    try:
        places = np.array([(float(x), float(y)) for x, y, _ in pattern.stitches], dtype=np.float64)
        commands = [int(command) & pe.COMMAND_MASK for _, _, command in pattern.stitches]
    except (TypeError, ValueError, OverflowError):
        raise _fault(name, f"it is damaged or no {kind} file") from None
    places = places.reshape(-1, 2)
    acts = np.array([_ACTS.get(command, OTHER) for command in commands], dtype=np.int64)
    if ENDED in acts:  # what follows is not sewn
        last = int(np.flatnonzero(acts == ENDED)[0]) + 1
        places, acts, commands = places[:last], acts[:last], commands[:last]
    if kind in _CUT_BY_MOVES:
        acts = _with_cuts(acts)
    threads = [_hex(thread) for thread in pattern.threadlist]
    return Records(
        kind=kind,
        places=places,
        acts=acts,
        colours=_colours(commands, threads),
        exact_colours=kind in _EXACT_COLOURS,
        says_cuts=kind not in _CUT_UNSAID,
        end=end,
    )


def _hex(thread: Any) -> str:
    colour = getattr(thread, "color", None)
    return f"#{colour & 0xFFFFFF:06x}" if isinstance(colour, int) else ""


def _colours(commands: Iterable[int], threads: list[str]) -> tuple[str, ...]:
    """Colour from the start and after each stop; a stop alone keeps the thread."""
    place, sewn = 0, False
    places = [0]
    for command in commands:
        act = _ACTS.get(command, OTHER)
        sewn = sewn or act == SEWN
        if act == STOPPED:
            # Before the first stitch a needle is chosen, and no thread changed.
            place += command in _NEXT_THREAD and sewn
            places.append(place)
    return tuple(threads[place] if place < len(threads) else "" for place in places)


def _with_cuts(acts: NDArray[np.int64]) -> NDArray[np.int64]:
    """Make a cut of the first of so many moves in a row, after a stitch, as say one."""
    moved = np.concatenate([[False], acts == MOVED, [False]]).astype(np.int8)
    starts, ends = np.flatnonzero(np.diff(moved) == 1), np.flatnonzero(np.diff(moved) == -1)
    starts = starts[ends - starts >= _MOVES_OF_A_CUT]
    found = acts.copy()
    found[starts[(starts > 0) & (acts[starts - 1] == SEWN)]] = CUT
    return found


def _from_svg(data: bytes, name: str) -> Records:
    """Records of a picture that `svg.encode` drew: a move and a cut for each run."""
    try:
        steps = needle_svg.read_runs(data)
    except Exception:  # XML, numbers, letters: whatever goes wrong first
        raise _fault(
            name,
            "it is cut short, damaged, or an SVG picture that this program did not draw",
            "Of pictures only those in a project's stitch/ folder can be read.",
        ) from None
    places: list[tuple[float, float]] = []
    acts: list[int] = []
    for number, (_, runs) in enumerate(steps):
        if number:
            places.append(places[-1])
            acts.append(STOPPED)
        for run in runs:
            points = [(float(x), float(y)) for x, y in run]
            places += [points[0], *points, points[-1]]
            acts += [MOVED, *[SEWN] * len(points), CUT]
    array = np.array(places, dtype=np.float64).reshape(-1, 2)
    colours = tuple(colour for colour, _ in steps)
    return Records(
        kind="svg",
        places=array,
        acts=np.array(acts, dtype=np.int64),
        colours=colours,
        exact_colours=True,
        says_cuts=True,
        end=FileEnd(True, "its picture is closed"),
    )
