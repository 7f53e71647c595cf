"""A stitch file's own header is believed only if its stitches agree.

The layout of the DST header (`CO:`, `+X:` and the like, `AX:`) and of its records, in which each
distance has one bit forwards and one backwards, is from the published description of the format;
those of the other kinds from the stitch library's writers (PyEmbroidery 1.5.1), which serve as
what a file of someone else's is.
"""

import io
import random
from functools import lru_cache
from pathlib import Path

import numpy as np
import pyembroidery as pe
import pytest
from layout_orders import HOOPS

from paramgen.cli.read_command import look
from paramgen.files.formats import FORMATS
from paramgen.files.proven_files import write_stitch_files
from paramgen.files.read_any_kind import SEWN, STOPPED, read_records
from paramgen.hooping import Room
from paramgen.making import Order, make
from paramgen.ordering.order_from_words import asked
from paramgen.ordering.typed_request import TypedRequest
from paramgen.pack.pack_files import contents
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import find_hoop
from paramgen.vocabulary.findings import InputError

#: Changed files of each kind that may be taken for whole, of so many; what betrays a change is
#: said in `claims.py`. Of a JEF file only the size does.
TRIED = 80
UNNOTICED = {"dst": 0.1, "jef": 0.6, "vp3": 0.15, "xxx": 0.05, "pes": 0.02, "pes1": 0.02}


@lru_cache
def written(name: str) -> bytes:
    (kind,) = [kind for kind in FORMATS if kind.name == name]
    made = make(Order(find_recipe("fold-wallet"), {}, Room(find_hoop("130x180", HOOPS))))
    return write_stitch_files(made.sewn, [kind], "wallet")[0].data


def ending(name: str) -> str:
    return f"wallet.{name.removesuffix('1')}"


def sewn(data: bytes, name: str) -> tuple[bytes, bytes, bool | None]:
    """Needle points, their stops, and whether the file is said to be whole."""
    records = read_records(data, ending(name))
    down = records.acts == SEWN
    stops = np.cumsum(records.acts == STOPPED)[down]
    return records.places[down].tobytes(), stops.tobytes(), records.end.whole


@pytest.mark.parametrize("name", UNNOTICED)
def test_a_flipped_bit_that_changes_a_stitch_is_noticed_where_it_can_be(name: str) -> None:
    good = written(name)
    *whole, yes = sewn(good, name)
    assert yes is True
    chance = random.Random(name)
    changed = believed = 0
    for _ in range(TRIED):
        data = bytearray(good)
        bit = chance.randrange(8 * len(data))
        data[bit // 8] ^= 1 << bit % 8
        try:
            found = sewn(bytes(data), name)
        except InputError:
            continue
        if list(found[:2]) != whole:
            changed += 1
            believed += found[2] is True
    assert changed > TRIED / 8
    assert believed <= UNNOTICED[name] * changed, (believed, changed)


WRITERS = {
    "dst": pe.write_dst, "jef": pe.write_jef, "vp3": pe.write_vp3, "xxx": pe.write_xxx,
    "pes": pe.write_pes, "pec": pe.write_pec,
}  # fmt: skip


def someone_elses(chance: random.Random) -> pe.EmbPattern:
    """A pattern far from the middle, with moves to where nothing is sewn and threads uncut."""
    pattern = pe.EmbPattern()
    x0, y0 = chance.randint(-400, 400), chance.randint(-400, 400)
    for _ in range(chance.randint(1, 4)):
        pattern.add_thread(pe.EmbThread(chance.randrange(1 << 24)))
        for _ in range(chance.randint(1, 3)):
            x, y = x0 + chance.randint(-200, 200), y0 + chance.randint(-200, 200)
            pattern.add_stitch_absolute(pe.JUMP, x, y)
            for _ in range(chance.randint(2, 60)):
                x, y = x + chance.randint(-40, 40), y + chance.randint(-40, 40)
                pattern.add_stitch_absolute(pe.STITCH, x, y)
            if chance.random() < 0.7:
                pattern.add_command(pe.TRIM)
        pattern.add_command(pe.COLOR_BREAK)
    pattern.add_command(pe.END)
    return pattern.get_normalized_pattern()


@pytest.mark.parametrize("name", WRITERS)
def test_what_another_program_wrote_is_not_suspected(name: str) -> None:
    chance = random.Random(name)
    suspected = 0
    for _ in range(20):
        stream = io.BytesIO()
        WRITERS[name](someone_elses(chance), stream)
        suspected += read_records(stream.getvalue(), f"theirs.{name}").end.whole is not True
    # The library itself puts no fraction into some places of VP3 and PES.
    assert suspected <= (2 if name in ("vp3", "pes") else 0)


def said_of(data: bytes, name: str = "dst") -> str:
    end = read_records(data, ending(name)).end
    assert end.whole is None
    assert end.said.endswith("; one of both was changed after it was written")
    return end.said


def test_a_dst_header_that_its_stitches_belie_is_told() -> None:
    good = written("dst")
    assert good[31:34] == b"CO:"
    assert good[38:41] == b"+X:"
    assert good[74:77] == b"AX:"
    changes = int(good[34:37])
    other = good[:34] + b"%3d" % (changes + 1) + good[37:]
    assert said_of(other).startswith(
        f"its header says {changes + 1} changes of colour, its stitches have {changes}"
    )
    right = int(good[41:46])
    wider = said_of(good[:41] + b"%5d" % (right + 7) + good[46:])
    width = (right + int(good[50:55])) / 10  # from the start to the right and to the left, mm
    assert f"its header says {width + 0.7:.1f} ×" in wider
    assert f"its stitches are {width:.1f} ×" in wider
    assert "ends at" in said_of(good[:77] + b"+  123" + good[83:])


def test_a_record_that_goes_both_ways_is_told() -> None:
    # Bits 0 and 1 of the first byte: one step right and one step left.
    good = written("dst")
    at = next(at for at in range(512, len(good), 3) if good[at] & 3 == 1)
    data = good[:at] + bytes([good[at] | 3]) + good[at + 1 :]
    assert said_of(data).startswith(f"record {(at - 512) // 3 + 1} goes both ways at once")


def test_files_that_hold_no_stitch_are_not_called_whole(tmp_path: Path) -> None:
    # An EXP file under the name of a kind whose records are of three bytes.
    file = tmp_path / "tag.ksm"
    file.write_bytes(written("exp"))
    try:
        found = look(file)
    except InputError:
        return
    assert found.reading.stitches > 0 or found.reading.end.whole is None


def test_a_plan_knows_its_very_files(tmp_path: Path) -> None:
    wanted = asked(TypedRequest(recipe="coaster", hoop="130x180", files="jef,exp"))
    made = contents(make(wanted.order, wanted.hoops), wanted.formats, papers=False)
    (tmp_path / "plan.json").write_bytes(made["plan.json"])
    for name in [name for name in made if name.startswith("stitch/")]:
        file = tmp_path / Path(name).name
        file.write_bytes(made[name])
        assert look(file, plan=tmp_path).good
        data = bytearray(made[name])
        data[-40] ^= 1  # by a tenth of a millimetre: a needle point still lies on its line
        file.write_bytes(data)
        found = look(file, plan=tmp_path)
        assert not found.good
        if {one.code for one in found.differences} == {"bytes"}:
            assert name in found.differences[0].message
