"""The rectangle that one copy takes, and how far it may reach out of the field.

All lengths in this module, and in those that lay tiles, are whole tenths of a millimetre:
sums and comparisons are exact.
"""

from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True, kw_only=True)
class CopyTile:
    """The room of one copy, with what is kept free round it.

    Parameters
    ----------
    wide, high : int
        The rectangle round all that is laid, taped and cut, and half of what is kept free
        between two copies on every side.
    left, top, right, bottom : int
        By how much that rectangle may reach out of the field at each side: only needle
        points must lie in the field.
    """

    wide: int
    high: int
    left: int = 0
    top: int = 0
    right: int = 0
    bottom: int = 0


@dataclass(frozen=True, kw_only=True)
class FillRectangle:
    """A rectangle to be filled: the field, or what a cut leaves of it.

    Parameters
    ----------
    wide, high : int
    left, top, right, bottom : bool
        Which of its sides are edges of the field, over which tiles may reach.
    """

    wide: int
    high: int
    left: bool = True
    top: bool = True
    right: bool = True
    bottom: bool = True

    def across(self, tile: CopyTile) -> int:
        """How many tiles lie side by side in it."""
        room = self.wide + self.left * tile.left + self.right * tile.right
        return max(0, room // tile.wide)

    def down(self, tile: CopyTile) -> int:
        """How many tiles lie one below the other in it."""
        room = self.high + self.top * tile.top + self.bottom * tile.bottom
        return max(0, room // tile.high)

    def grid(self, tile: CopyTile) -> int:
        """How many tiles of one kind lie in it, in rows: no more can, however they lie.

        Let points stand in rows, a tile's width apart and a tile's height apart, the first
        of them just inside the far corner of a tile laid in the near corner: every tile,
        wherever it lies along the axes, covers one of them, and there are as many as in rows.
        """
        return self.across(tile) * self.down(tile)


@dataclass(frozen=True)
class TileSpot:
    """Where a tile lies.

    Parameters
    ----------
    kind : int
        Which of the tiles given: 0 for those that lie upright, 1 for those turned.
    x, y : int
        Left and top of the tile, from the left and top edge of the field.
    """

    kind: int
    x: int
    y: int
