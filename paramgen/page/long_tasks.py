"""What the process for what takes long does when it is asked, each by its name."""

from collections.abc import Mapping
from functools import partial

from paramgen.page.desk import desk, keep_motif, keep_print
from paramgen.page.given_files import GivenFiles
from paramgen.page.kit_tasks import kit, take_kit
from paramgen.page.sizes_tasks import sizes
from paramgen.page.table_taken import take_all
from paramgen.page.taking_tasks import put_in_folder, take
from paramgen.page.worker_side import Task, in_one
from paramgen.page.would_do_tasks import would_do


def long_tasks(
    own: Mapping[str, str], out: str, given: GivenFiles | None = None
) -> dict[str, Task]:
    """Tasks that take long, by their names."""
    table = desk(own, given)
    return {
        "keep-print": in_one(keep_print, table),
        "keep-motif": in_one(keep_motif, table),
        "take": partial(take, table),
        "put": partial(put_in_folder, table, out=out),
        "sizes": partial(sizes, table),
        "would-do": partial(would_do, table),
        "take-all": partial(take_all, table),
        "kit": partial(kit, table),
        "take-kit": partial(take_kit, table),
    }
