"""From the bytes of a stitch file to a motif that can be stitched on a panel."""

from hashlib import sha256

import numpy as np

from paramgen.embellishment.motif_stitches import MotifStitches, MotifStop, about_its_middle
from paramgen.files.read_any_kind import SEWN, STOPPED, Records, read_records
from paramgen.vocabulary.findings import Fault, InputError
from paramgen.vocabulary.path import FloatArray

#: Tenths of a millimetre in one.
_PER_MM = 10.0


def motif_of(data: bytes, name: str) -> MotifStitches:
    """Read a stitch file as a motif: its stops, and its runs from cut to cut.

    Parameters
    ----------
    data : bytes
    name : str
        Of the file; its ending says its kind.

    Raises
    ------
    InputError
        If it is no stitch file that can be read whole, or holds no stitch.
    """
    records = read_records(data, name)
    stops = _stops(records)
    if not any(len(run) > 1 for stop in stops for run in stop.runs):
        raise InputError([Fault("it holds no stitch", name)])
    return about_its_middle(name, sha256(data).hexdigest(), stops)


def _stops(records: Records) -> list[MotifStop]:
    """Each halt of the machine, with its runs: what is sewn without a move, a cut or a stop."""
    found: list[MotifStop] = []
    runs: list[FloatArray] = []
    run: list[FloatArray] = []
    colours = iter(records.colours)
    colour = next(colours, "")
    for place, act in zip(records.places / _PER_MM, records.acts.tolist(), strict=True):
        if act == SEWN:
            run.append(place)
            continue
        if run:
            runs.append(np.array(run))
            run = []
        if act == STOPPED:
            if runs:
                found.append(MotifStop(colour, tuple(runs)))
            runs, colour = [], next(colours, "")
    if run:
        runs.append(np.array(run))
    if runs:
        found.append(MotifStop(colour, tuple(runs)))
    return found
