"""Ten thousand requests and addresses at random: always an answer or a close, and level memory."""

from page_bombarded import bombard
from page_running import running

ALL, PARTS = 10_000, 10


def test_whatever_is_sent_the_page_answers_or_closes() -> None:
    with running() as page:
        taken = []
        for part in range(PARTS):
            told = bombard(page, ALL // PARTS, seed=100 + part)
            assert told.faults == []
            assert page.asked("/project?recipe=coaster").status == 200
            taken.append(page.memory())
        # What is worked out is kept up to a bound, which is reached early.
        assert max(taken) < 1.3 * taken[2], [f"{one / 1e6:.0f} MB" for one in taken]
        assert len(page.workers()) == 1
