"""Pictures of a person's own fabrics, kept while the page is open and never written."""

import hashlib
from collections import OrderedDict

#: So many pictures are kept, and so many bytes of them; those that came first go first.
MOST_PRINTS, MOST_BYTES = 24, 40_000_000


class PrintStore:
    """Pictures by names made from what they hold.

    Examples
    --------
    >>> store = PrintStore()
    >>> store.add(b"leaves") == store.add(b"leaves")
    True
    >>> store.get(store.add(b"leaves"))
    b'leaves'
    >>> store.get("print-0") is None
    True
    """

    def __init__(self) -> None:
        self._kept: OrderedDict[str, bytes] = OrderedDict()

    def add(self, data: bytes) -> str:
        """Keep a picture; gives its name."""
        name = f"print-{hashlib.sha256(data).hexdigest()[:16]}"
        self._kept[name] = data
        self._kept.move_to_end(name)
        while len(self._kept) > 1 and (
            len(self._kept) > MOST_PRINTS or sum(map(len, self._kept.values())) > MOST_BYTES
        ):
            self._kept.popitem(last=False)
        return name

    @property
    def names(self) -> tuple[str, ...]:
        """Of all that are kept."""
        return tuple(self._kept)

    def get(self, name: str) -> bytes | None:
        """A picture by its name; None if it is not kept."""
        return self._kept.get(name)
