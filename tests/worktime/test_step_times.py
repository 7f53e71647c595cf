"""How long steps take: the arithmetic of it, and what a person says anew."""

from pathlib import Path

import pytest

from paramgen.hooping import Room
from paramgen.making import Made, Order
from paramgen.recipe.read_recipe import find_recipe
from paramgen.reference.hoops import find_hoop, listed
from paramgen.reference.work_times import WorkTimes, own_times, work_times
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.kinds import Act
from paramgen.workshop import Workshop
from paramgen.worktime.step_times import WorkPhase, hand_seconds, in_phase, step_times


@pytest.fixture(scope="module")
def shop() -> Workshop:
    return Workshop(listed())


def made(shop: Workshop, recipe: str, copies: int = 1) -> Made:
    room = Room(find_hoop("180x300", shop.hoops))
    return shop.attempt(Order(find_recipe(recipe), {}, room, copies=copies)).sound


@pytest.fixture
def times(tmp_path: Path) -> WorkTimes:
    file = tmp_path / "work-times.toml"
    file.write_text(
        """
        [machine]
        stitches_per_minute = 600
        slow_stitches_per_minute = 300
        trim = 4
        stop = 10
        [before]
        hoop = 100
        cut = 30
        [hand."trim"]
        step = 10
        metre = 100
        [hand."lay"]
        step = 1
        each = 2
        """,
        "utf-8",
    )
    return work_times(file)


def test_a_stop_takes_its_halt_its_stitches_and_its_cuts(shop: Workshop, times: WorkTimes) -> None:
    tag = made(shop, "coaster")
    found = {one.step: one for one in step_times(tag, times)}
    by_stop = {one.stop: one for one in tag.sewn}
    for step in tag.project.steps:
        if step.act is Act.STITCH:
            assert step.stop is not None
            sewn = by_stop[step.stop]
            # 600 a minute are ten a second.
            quick = 10 + sewn.stitch_count / 10 + 4 * len(sewn.runs)
            slow = 10 + sewn.stitch_count / 5 + 4 * len(sewn.runs)
            assert found[step.number].machine in (pytest.approx(quick), pytest.approx(slow))
            assert found[step.number].hand == 0


def test_trimming_goes_by_the_metre_and_laying_by_the_piece(
    shop: Workshop, times: WorkTimes
) -> None:
    project = made(shop, "coaster").project
    (trim,) = [step for step in project.steps if step.act is Act.TRIM]
    outline = sum(path.length for path in trim.mark)
    assert hand_seconds(trim, project, times) == pytest.approx(10 + outline / 10)
    lay = next(step for step in project.steps if step.act is Act.LAY)
    assert hand_seconds(lay, project, times) == 1 + 2 * len(lay.layers)


def test_cutting_comes_first_and_the_machine_is_taken_from_the_hooping_to_the_last_stop(
    shop: Workshop, times: WorkTimes
) -> None:
    wallet = made(shop, "fold-wallet")
    found = step_times(wallet, times)
    pieces = sum(piece.quantity for piece in wallet.project.pieces)
    assert (found[0].hand, found[1].hand) == (30 * pieces, 100)
    phases = [one.phase for one in found[2:]]
    assert phases == sorted(phases, key=list(WorkPhase).index)
    last = max(step.number for step in wallet.project.steps if step.act is Act.STITCH)
    assert [one.step for one in found if one.phase is WorkPhase.IN_HOOP][-1] == last
    # All is in one of three phases.
    assert sum(in_phase(found, one) for one in WorkPhase) == pytest.approx(
        sum(one.seconds for one in found)
    )


def test_two_copies_take_hands_twice_and_the_hooping_once(shop: Workshop, times: WorkTimes) -> None:
    both = [made(shop, "plant-tag", copies) for copies in (1, 2)]
    one, two = (step_times(each, times) for each in both)
    hooping = [found[1].hand for found in (one, two)]
    assert hooping == [100, 100]
    # What lies over both is cut once.
    cut = [sum(piece.quantity for piece in each.project.pieces) for each in both]
    assert [one[0].hand, two[0].hand] == [30 * cut[0], 30 * cut[1]]
    assert in_phase(two, WorkPhase.FINISH) > 1.8 * in_phase(one, WorkPhase.FINISH)


def test_a_measured_run_sets_the_pace(shop: Workshop, tmp_path: Path) -> None:
    file = tmp_path / "work-times.toml"
    file.write_text("[pace]\nhand = 1.5\n", "utf-8")
    usual, mine = (
        step_times(made(shop, "coaster"), work_times(one)) for one in (own_times(), file)
    )
    for before, after in zip(usual, mine, strict=True):
        assert after.hand == pytest.approx(1.5 * before.hand)
        assert after.machine == before.machine


def test_no_zigzag_of_a_machine_is_faster_than_machines_are() -> None:
    # Facts (common practice, from memory): machines sew 400 to 1000 stitches a minute.
    usual = work_times().machine
    assert 400 <= usual.stitches_per_minute <= 1000
    assert usual.slow_stitches_per_minute < usual.stitches_per_minute


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[hand.tirm]\nstep = 3", "no step does `tirm`. Did you mean `trim`?"),
        ("[machine]\nstop = -1", "machine.stop: Input should be greater than or equal to 0"),
        ("[machine]\nspeed = 600", "machine.speed: Extra inputs are not permitted"),
        ("[pace]\nhand = 'slow'", "pace.hand: Input should be a valid number"),
        ("machine = 3", "machine: Input should be a valid dictionary"),
        ("[machine", "is not TOML"),
    ],
)
def test_what_is_no_time_is_told_with_its_place(tmp_path: Path, text: str, says: str) -> None:
    file = tmp_path / "work-times.toml"
    file.write_text(text, "utf-8")
    with pytest.raises(InputError) as told:
        work_times(file)
    assert any(says in str(fault) for fault in told.value.faults), told.value
    assert all(str(file) in str(fault) for fault in told.value.faults)
