"""How the processes that work for the page are started.

Where the system can, they branch off from one that has loaded what shows a project, and that loads
while the command line and what answers still do; one that was ended is replaced at once. Elsewhere
each loads all by itself.
"""

from multiprocessing import get_all_start_methods, get_context
from typing import TYPE_CHECKING

if TYPE_CHECKING:  # the first is not on every system
    from multiprocessing.context import ForkServerContext, SpawnContext

#: What the first of them is to have loaded.
LOADED = ("paramgen.page.loaded_to_stay", "paramgen.page.tasks")


def process_kind() -> "ForkServerContext | SpawnContext":
    """The kind of process that is started here."""
    if "forkserver" in get_all_start_methods():
        return get_context("forkserver")
    return get_context("spawn")


def load_early() -> None:
    """Begin to load, and wait for nothing."""
    if "forkserver" in get_all_start_methods():
        from multiprocessing.forkserver import ensure_running  # noqa: PLC0415 (see above)

        get_context("forkserver").set_forkserver_preload([*LOADED])
        ensure_running()
