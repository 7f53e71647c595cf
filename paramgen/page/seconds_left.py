"""How long is left for what may take as long as it likes."""

from collections.abc import Callable
from time import perf_counter


def seconds_left(seconds: float) -> Callable[[], float]:
    """Counts down from now; gives what is left, s."""
    until = perf_counter() + seconds
    return lambda: until - perf_counter()
