"""The page and a browser for a file of tests.

For a file and not for all: the steering of the browser keeps this thread's event loop, which other
tests want for themselves.
"""

from collections.abc import Iterator

import pytest
from browser import steered
from page_running import RunningPage, running
from playwright.sync_api import Browser


@pytest.fixture(scope="module")
def page() -> Iterator[RunningPage]:
    with running() as one:
        yield one


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with steered() as one:
        yield one
