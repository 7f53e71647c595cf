"""A section of a kit's papers: words, tables and pictures, whatever they are set as."""

from paramgen.drawings.primitives.items import Drawing
from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True, kw_only=True)
class KitTable:
    """A table.

    Parameters
    ----------
    caption : str
        What it is of; empty where its section says it.
    head : tuple of str
    rows : tuple of tuple of str
    widths : tuple of float
        Of the columns on paper, as shares of the whole.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]
    caption: str = ""


@dataclass(frozen=True, kw_only=True)
class KitSection:
    """A section.

    Parameters
    ----------
    name : str
        For links.
    title : str
    says : tuple of str
        Paragraphs before its tables.
    tables : tuple of KitTable
    pictures : tuple of Drawing
        After the tables; each is shown as large as it is, or as wide as the paper.
    """

    name: str
    title: str
    says: tuple[str, ...] = ()
    tables: tuple[KitTable, ...] = ()
    pictures: tuple[Drawing, ...] = ()
