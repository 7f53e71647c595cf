"""What a process of the page loads as it starts; each is named here without being loaded before."""

from collections.abc import Mapping

from paramgen.page.print_store import PrintStore
from paramgen.page.worker_side import Task


def prepare(own: Mapping[str, str], prints: PrintStore | None = None) -> dict[str, Task]:
    """Make a process ready; gives its tasks by their names."""
    from paramgen.page import tasks  # noqa: PLC0415 (the process that answers knows no sewing)

    return tasks.prepare(own, prints)


def prepare_long(
    own: Mapping[str, str], out: str, prints: PrintStore | None = None
) -> dict[str, Task]:
    """Make a process ready for what takes long; gives its tasks by their names."""
    from paramgen.page import long_tasks  # noqa: PLC0415 (as above)

    return long_tasks.prepare(own, out, prints)
