"""What a process of the page loads as it starts; each is named here without being loaded before."""

from collections.abc import Iterator, Mapping

from paramgen.page.given_files import GivenFiles
from paramgen.page.worker_side import Task


def prepare(
    own: Mapping[str, str], given: GivenFiles | None = None
) -> Iterator[Mapping[str, Task]]:
    """Make a process ready, what shows a project first; gives its tasks by their names."""
    # The process that answers knows no sewing.
    from paramgen.page.desk import desk  # noqa: PLC0415
    from paramgen.page.tasks import first_tasks  # noqa: PLC0415

    table = desk(own, given)
    yield first_tasks(table)
    from paramgen.page.more_tasks import more_tasks  # noqa: PLC0415

    yield more_tasks(table)


def prepare_long(
    own: Mapping[str, str], out: str, given: GivenFiles | None = None
) -> Iterator[Mapping[str, Task]]:
    """Make a process ready for what takes long; gives its tasks by their names."""
    from paramgen.page.long_tasks import long_tasks  # noqa: PLC0415 (as above)

    yield long_tasks(own, out, given)
