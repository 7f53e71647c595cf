"""One budget for the whole work: what is refused on its ground, and at what cost."""

import resource
import subprocess
import sys
import time
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import pytest
from attack_recipes import (
    ATTACKS,
    GOOD,
    Attack,
    changed,
    folded,
    scribble,
    with_place,
)
from attack_recipes import (
    listed as points_listed,
)
from told import mends, says

from paramgen import budget
from paramgen.budget import CODE, IN_ALL, Allowance
from paramgen.hooping import Room
from paramgen.making import Made, Order, make
from paramgen.recipe.read_recipe import find_recipe, listed, read_recipe
from paramgen.reference.hoops import Hoop, find_hoop, smallest_first
from paramgen.reference.hoops import listed as listed_hoops
from paramgen.vocabulary.facts import Clause
from paramgen.vocabulary.findings import CannotMakeError, InputError

HOOPS = listed_hoops()
FIELD = find_hoop("130x180", HOOPS)
#: The largest that can be typed.
WIDEST = Hoop("2000x2000", 2000.0, 2000.0)

EACH = pytest.mark.parametrize("attack", ATTACKS, ids=lambda attack: attack.name)


def made(text: str, hoop: Hoop = FIELD) -> Made:
    recipe = read_recipe(text, name="marker", source="marker.toml")
    return make(Order(recipe, {}, Room(hoop)), HOOPS)


def refusal(text: str) -> str:
    """What is said of what cannot be made, or of what is wrong in it."""
    with pytest.raises((CannotMakeError, InputError)) as refused:
        made(text)
    if isinstance(refused.value, InputError):
        return "\n".join(str(fault) for fault in refused.value.faults)
    assert isinstance(refused.value, CannotMakeError)
    stops = [finding for finding in refused.value.findings if finding.stops]
    return "\n".join(f"{says(finding)}. {mends(finding)}" for finding in stops)


def codes(order: Order) -> list[str]:
    """What is found, whether it can be made or not."""
    try:
        return [finding.code for finding in make(order, HOOPS).project.findings]
    except CannotMakeError as refused:
        return [finding.code for finding in refused.findings]


def test_what_is_changed_can_be_made_before_it_is_changed() -> None:
    assert len(made(GOOD).sewn) == 2


@EACH
def test_a_refusal_says_how_much_of_what_and_the_limit(attack: Attack) -> None:
    said = refusal(attack.text)
    assert attack.much in said
    assert attack.limit in said
    assert len(said.splitlines()) == 1  # and nothing that only follows from it


def test_a_refusal_on_the_ground_of_the_budget_says_what_to_lessen() -> None:
    for attack in ATTACKS:
        if "worked out for one project" in (said := refusal(attack.text)):
            assert said.rpartition("for one project. ")[2].startswith(
                ("Repeat ", "Use ", "Let ", "Lay ", "Cut ", "Keep ", "Fold ", "Inset ", "Tape ")
            )


RUN = """
import resource, sys
from pathlib import Path
from paramgen.cli.app import app
for recipe in sorted(Path(sys.argv[1]).glob("*.toml")):
    try:
        app(["check", str(recipe), "--hoop", "130x180"], prog_name="paramgen")
    except SystemExit as end:
        print("status", recipe.stem, end.code)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    peak = peak if sys.platform == "darwin" else peak * 1024
    # Linux hands on what the process that started this one took: ask for its own instead.
    status = Path("/proc/self/status")
    for line in status.read_text().splitlines() if status.exists() else ():
        if line.startswith("VmHWM:"):
            peak = 1024 * int(line.split()[1])
    print("peak", peak)
"""


def bounded() -> None:
    """End a process that takes more than two seconds of a processor for each refusal.

    That is several times what they take, so that no clock makes a test fail. Before there was a
    budget most of them took more than all may take together, more memory, or came to no end.
    """
    seconds = 2 * len(ATTACKS)
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
    resource.setrlimit(resource.RLIMIT_AS, (4_000_000_000, 4_000_000_000))


@pytest.mark.skipif(sys.platform == "win32", reason="has no such limits")
def test_no_recipe_costs_much_before_it_is_refused(tmp_path: Path) -> None:
    for attack in ATTACKS:
        (tmp_path / f"{attack.name}.toml").write_text(attack.text, encoding="utf-8")
    ran = subprocess.run(
        [sys.executable, "-c", RUN, tmp_path],
        capture_output=True,
        text=True,
        preexec_fn=bounded,
        check=True,
    )
    words = ran.stdout.split()
    ended = {
        name: int(status)
        for word, name, status in zip(words, words[1:], words[2:], strict=False)
        if word == "status"
    }
    assert set(ended) == {attack.name for attack in ATTACKS}
    assert set(ended.values()) <= {1, 2}
    assert max(int(b) for a, b in pairwise(words) if a == "peak") < 500_000_000


@dataclass
class Shares:
    """The largest share of each allowance that was asked for."""

    of: dict[str, float]


@pytest.fixture
def shares(monkeypatch: pytest.MonkeyPatch) -> Shares:
    asked = Shares({})
    ask = Allowance.ask

    def noting(
        self: Allowance,
        amount: float,
        where: Clause,
        lessen: Clause | None = None,
        *,
        at_least: bool = False,
    ) -> None:
        asked.of[self.what] = max(asked.of.get(self.what, 0.0), amount / self.most)
        ask(self, amount, where, lessen, at_least=at_least)

    monkeypatch.setattr(Allowance, "ask", noting)
    return asked


ALLOWANCES = [one for one in vars(budget).values() if isinstance(one, Allowance)]


@pytest.mark.parametrize("name", listed())
def test_the_largest_that_a_recipe_can_be_asked_for_takes_a_quarter_at_most(
    name: str, shares: Shares
) -> None:
    recipe = find_recipe(name)
    largest = {key: f"{size.most}mm" for key, size in recipe.file.sizes.items()}
    counts = {key: str(count.most) for key, count in recipe.file.counts.items()}
    asked = [{}, largest, largest | counts]
    asked += [
        largest | counts | {key: option}
        for key, choice in recipe.file.choices.items()
        for option in choice.options
    ]
    for one in asked:
        assert CODE not in codes(Order(recipe, one, Room(WIDEST)))
    make(Order(recipe, {}, Room(smallest_first(HOOPS)[-1]), copies="most"))
    assert set(shares.of) <= {one.what for one in ALLOWANCES}
    assert len(shares.of) > 10
    assert max(shares.of.values()) <= 0.25, shares.of


def test_twenty_copies_are_far_from_the_budget(shares: Shares) -> None:
    make(Order(find_recipe("coaster"), {}, Room(WIDEST), copies=20))
    assert max(shares.of.values()) <= 0.5, shares.of


def test_more_copies_than_are_worked_out_are_refused_with_how_many_are() -> None:
    order = Order(find_recipe("coaster"), {}, Room(WIDEST), copies="most")
    with pytest.raises(CannotMakeError) as refused:
        make(order)
    (finding,) = [one for one in refused.value.findings if one.code == CODE]
    number = int(mends(finding).removeprefix("Ask for --copies ").removesuffix("."))
    assert make(Order(order.recipe, {}, order.room, copies=number)).project.copies == number
    with pytest.raises(CannotMakeError):
        make(Order(order.recipe, {}, order.room, copies=number + 1))


@pytest.mark.parametrize("times", [1, 2, 3])
def test_what_is_folded_as_cloth_can_be_is_not_refused_for_its_plies(times: int) -> None:
    recipe = read_recipe(folded(times), name="marker", source="marker.toml")
    assert CODE not in codes(Order(recipe, {}, Room(FIELD)))


def test_an_allowance_is_refused_only_beyond_its_end() -> None:
    plies = Allowance("plies", 150)
    plies.ask(150, IN_ALL)
    with pytest.raises(CannotMakeError) as refused:
        plies.ask(151, IN_ALL)
    (finding,) = refused.value.findings
    assert says(finding) == (
        "there would be 151 plies in all; at most 150 are worked out for one project"
    )
    assert mends(finding) == "Lay fewer pieces, or fold them fewer times."


def test_what_would_fit_is_not_tried_without_end(monkeypatch: pytest.MonkeyPatch) -> None:
    # One try is of more stitches than that.
    monkeypatch.setattr("paramgen.hooping.MOST_TRIED", 100)
    with pytest.raises(CannotMakeError) as refused:
        make(Order(find_recipe("coaster"), {"width": "300mm"}, Room(FIELD)), HOOPS)
    (finding,) = [one for one in refused.value.findings if one.code == "hoop-exceeded"]
    assert "it would take too long to look for what fits" in mends(finding)
    assert "smallest listed hoop that takes it" in mends(finding)


def test_nothing_lies_farther_out_than_the_largest_field_reaches() -> None:
    inside = changed(('along = "seam"', 'points = [[["0", "0"], ["2400", "0"]]]'))
    assert "hoop" in refusal(inside)  # it is asked about as any other, and is too large
    outside = changed(('along = "seam"', 'points = [[["0", "0"], ["2501", "0"]]]'))
    assert "2501 mm (98 7/16 in) from the origin" in refusal(outside)


def test_what_a_scribble_marks_is_found_at_little_cost() -> None:
    # 250 points at random cross each other some 10,000 times, which is within the budget. To
    # widen them all to see what hangs together took over 40 s.
    begun = time.process_time()
    text = with_place(f"[{points_listed(scribble(250))}]")
    assert len(made(text, Hoop("400x400", 400.0, 400.0)).sewn) == 2
    assert time.process_time() - begun < 5
