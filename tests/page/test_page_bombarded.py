"""Some hundred requests at random; `tests/scans/test_page_at_random.py` sends ten thousand."""

from collections.abc import Iterator

import pytest
from page_bombarded import bombard
from page_running import RunningPage, running


@pytest.fixture(scope="module")
def page() -> Iterator[RunningPage]:
    with running() as one:
        yield one


def test_whatever_is_sent_the_page_answers_or_closes(page: RunningPage) -> None:
    told = bombard(page, 300, seed=1)
    assert told.faults == []
    assert told.statuses[200] > 30
    assert {303, 400, 403, 404, 405, 421} & set(told.statuses)
    assert page.asked("/project?recipe=coaster").status == 200
