"""What the process for what takes long does when it is asked, each by its name."""

from collections.abc import Iterator, Mapping

from paramgen.page.desk import desk, keep_print
from paramgen.page.long_jobs import Told
from paramgen.page.print_store import PrintStore
from paramgen.page.sizes_tasks import sizes
from paramgen.page.table_taken import take_all
from paramgen.page.taking_tasks import put_in_folder, take
from paramgen.page.worker_side import Task
from paramgen.page.would_do_tasks import would_do


def prepare(own: Mapping[str, str], out: str, prints: PrintStore | None = None) -> dict[str, Task]:
    """Make a process ready; gives its tasks by their names."""
    table = desk(own, prints)

    def taken(query: str, wanted: str) -> Iterator[Told]:
        yield from take(table, query, wanted)

    def put(query: str, over: str) -> Iterator[Told]:
        yield from put_in_folder(table, query, over, out)

    def mapped(query: str, over: str) -> Iterator[Told]:
        yield from sizes(table, query, over)

    def would(query: str) -> Iterator[Told]:
        yield from would_do(table, query)

    def all_taken(query: str) -> Iterator[Told]:
        yield from take_all(table, query)

    def keep(data: bytes) -> Iterator[tuple[str, str]]:
        yield keep_print(table, data)

    return {
        "keep-print": keep,
        "take": taken,
        "put": put,
        "sizes": mapped,
        "would-do": would,
        "take-all": all_taken,
    }
