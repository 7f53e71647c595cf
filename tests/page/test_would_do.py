"""What is offered after a refusal can be made, and is what the command says."""

import re
import threading
import time
from collections.abc import Iterator
from html import unescape

import pytest
from command_line import paramgen

from paramgen.page.desk import Desk, desk
from paramgen.page.long_jobs import JobResult, JobStage, JobState
from paramgen.page.project_parts import ShownProject
from paramgen.page.watched_work import Tell, watched
from paramgen.page.would_do_tasks import would_do


@pytest.fixture(scope="module")
def table() -> Desk:
    return desk({})


def offered(table: Desk, query: str) -> list[tuple[str, str]]:
    *_, last = would_do(table, query)
    assert isinstance(last, JobResult)
    found = re.findall(r'href="/project\?([^"]*)"[^>]*>([^<]*)<', last.data.decode())
    return [(unescape(there), says) for there, says in found]


def test_a_size_that_would_do_is_found_and_can_be_made(table: Desk) -> None:
    query = "recipe=coaster&hoop=130x180&my.width=80mm&my.height=80mm"
    assert ShownProject(table, query).to_be_looked_for
    ways = offered(table, query)
    assert ways
    ran = paramgen("check", "coaster", "width=80mm", "height=80mm", "--hoop", "130x180")
    for there, says in ways:
        shown = ShownProject(table, there)
        assert shown.attempt is not None
        assert shown.attempt.made is not None
        assert not shown.to_be_looked_for
        # The command offers the same sizes: `Use width 86 mm` is `width=86mm` there.
        name, length = says.removeprefix("Use ").split(" ", 1)
        assert f"{name}={length.replace(' ', '')}" in ran.err


def test_further_hoops_take_it_as_asked(table: Desk) -> None:
    ways = offered(table, "recipe=coaster&hoop=100x100&my.width=150mm&my.height=100mm")
    assert ways
    for there, says in ways:
        assert says.startswith("Use hoop ")
        shown = ShownProject(table, there)
        assert shown.attempt is not None
        assert shown.attempt.made is not None


def test_where_no_size_would_do_in_the_hoop_sizes_in_a_larger_one_are_offered(table: Desk) -> None:
    # A phone of 75 by 156 mm and 9 mm is longer than a sleeve of 165 mm leaves room for, and a
    # longer one with its flap is longer than the 180 mm of this hoop.
    ways = offered(table, "recipe=flap-sleeve&hoop=130x180&holds=phone")
    assert ways
    for there, says in ways:
        assert "hoop 160x260" in says
        assert "body" in says
        shown = ShownProject(table, there)
        assert shown.attempt is not None
        assert shown.attempt.made is not None


def test_where_nothing_would_do_that_is_said(table: Desk) -> None:
    # What is 310 mm long lies in none of the next four hoops of the list, 300 mm at most.
    *_, last = would_do(table, "recipe=flap-sleeve&hoop=100x100&holds=90x310mm")
    assert isinstance(last, JobResult)
    assert "No sizes near these can be made" in last.data.decode()
    *_, last = would_do(table, "recipe=coaster&hoop=130x180&my.width=abc")
    assert isinstance(last, JobResult)
    assert last.data.decode().strip() == ""


def test_nothing_is_offered_for_what_can_be_made_or_is_not_understood(table: Desk) -> None:
    assert offered(table, "recipe=coaster&hoop=130x180") == []
    assert offered(table, "recipe=coaster&hoop=130x180&my.width=abc") == []
    assert offered(table, "recipe=nothing") == []


def test_work_is_told_of_while_it_goes_on_and_gives_what_it_gives() -> None:
    def work(tell: Tell) -> int:
        tell(JobState(JobStage.WORKING, "half"))
        time.sleep(0.5)
        return 42

    states: list[JobState] = []

    def told() -> Iterator[JobState]:
        found.append((yield from watched(work)))

    found: list[int] = []
    states.extend(told())
    assert found == [42]
    assert {one.says for one in states} == {"half"}


def test_work_that_nobody_wants_stops_at_what_it_tells_next() -> None:
    running = threading.Event()

    def work(tell: Tell) -> None:
        running.set()
        try:
            while True:
                tell(JobState(JobStage.WORKING, "on and on"))
                time.sleep(0.01)
        finally:
            running.clear()

    told: Iterator[JobState] = watched(work)
    next(told)
    assert running.is_set()
    del told
    assert not running.is_set()


def test_what_work_raises_comes_through() -> None:
    def work(_tell: Tell) -> None:
        raise ValueError("the needle")

    with pytest.raises(ValueError, match="the needle"):
        list(watched(work))
