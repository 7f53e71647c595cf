"""Files that a person gave to the page: kept while it is open, and never written.

Pictures of their fabrics, and stitch files of motifs. A name says what a file holds, so that an
address which names one means the same wherever it is opened; that of a motif says besides what its
file is called, as papers do.
"""

import hashlib
import re
from collections import OrderedDict

#: So many files are kept, and so many bytes of them; those that came first go first.
MOST_FILES, MOST_BYTES = 24, 40_000_000

#: Of the name of a file no more is kept, letters of its ending among them.
_LONGEST, _LONGEST_ENDING = 80, 12
_NAMED = re.compile(r"(?P<stem>.+)-[0-9a-f]{16}(?P<ending>\.[^.]+)")


class GivenFiles:
    """Files by names made from what they hold.

    Examples
    --------
    >>> given = GivenFiles()
    >>> given.add(b"leaves") == given.add(b"leaves")
    True
    >>> given.get(given.add(b"leaves"))
    b'leaves'
    >>> given.get("print-0") is None
    True
    """

    def __init__(self) -> None:
        self._kept: OrderedDict[str, bytes] = OrderedDict()

    def add(self, data: bytes, stem: str = "print", ending: str = "") -> str:
        """Keep a file; gives its name, which begins and ends so."""
        name = f"{stem}-{hashlib.sha256(data).hexdigest()[:16]}{ending}"
        self.keep(name, data)
        return name

    def keep(self, name: str, data: bytes) -> None:
        """Keep a file by a name that was made for it."""
        self._kept[name] = data
        self._kept.move_to_end(name)
        while len(self._kept) > 1 and (
            len(self._kept) > MOST_FILES or sum(map(len, self._kept.values())) > MOST_BYTES
        ):
            self._kept.popitem(last=False)

    @property
    def names(self) -> tuple[str, ...]:
        """Of all that are kept."""
        return tuple(self._kept)

    def get(self, name: str) -> bytes | None:
        """A file by its name; None if it is not kept."""
        return self._kept.get(name)


def stem_and_ending(file: str) -> tuple[str, str]:
    r"""The two parts of what a person's file is called, such that they can stand in quotes.

    Examples
    --------
    >>> stem_and_ending('C:\\garden\\my  "leaf".DST'), stem_and_ending("leaf")
    (('my -leaf-', '.DST'), ('leaf', ''))
    """
    last = " ".join(re.split(r"[\\/]", file)[-1].split())
    plain = "".join(one if one.isprintable() and one != '"' else "-" for one in last)
    stem, dot, ending = plain.rpartition(".") if "." in plain else (plain, "", "")
    return stem[:_LONGEST], f"{dot}{ending[:_LONGEST_ENDING]}"


def file_called(name: str) -> str:
    """What a person's file is called that is kept by a name.

    Examples
    --------
    >>> file_called("leaf-0123456789abcdef.dst"), file_called("leaf.dst")
    ('leaf.dst', 'leaf.dst')
    """
    found = _NAMED.fullmatch(name)
    return f"{found['stem']}{found['ending']}" if found else name
