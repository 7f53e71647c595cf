"""Cutting a plan out, cut by cut, with nothing known of how it was made.

A cloth is one panel. A cut goes from edge to edge of a panel and makes two of it; through a stack
it does so in every layer, which must be alike. What is left at the end are the panels.
"""

from collections.abc import Sequence
from dataclasses import dataclass

#: Panels and cuts meet within this, mm.
NEAR = 1e-4


@dataclass(frozen=True)
class Panel:
    left: float
    top: float
    right: float
    bottom: float

    def has(self, x1: float, y1: float, x2: float, y2: float) -> bool:
        """Whether a cut goes through it from edge to edge."""
        if abs(y1 - y2) < NEAR:
            ends = abs(x1 - self.left) < NEAR and abs(x2 - self.right) < NEAR
            return ends and self.top + NEAR < y1 < self.bottom - NEAR
        assert abs(x1 - x2) < NEAR, "a cut is straight across or along"
        ends = abs(y1 - self.top) < NEAR and abs(y2 - self.bottom) < NEAR
        return ends and self.left + NEAR < x1 < self.right - NEAR

    def split(self, x: float, y: float, *, across: bool) -> tuple["Panel", "Panel"]:
        if across:
            return (
                Panel(self.left, self.top, self.right, y),
                Panel(self.left, y, self.right, self.bottom),
            )
        return (
            Panel(self.left, self.top, x, self.bottom),
            Panel(x, self.top, self.right, self.bottom),
        )


#: As `kit.json` has a cut: what for, ruler, lines.
TypedCut = tuple[str, float, Sequence[tuple[float, float, float, float]]]


def cut_out(sheet: Panel, cuts: Sequence[TypedCut]) -> list[Panel]:
    """Cut a cloth; fails at the first cut that people could not do as it is said."""
    panels = [sheet]
    for number, (kind, ruler, lines) in enumerate(cuts, 1):
        alike = set()
        for x1, y1, x2, y2 in lines:
            through = [one for one in panels if one.has(x1, y1, x2, y2)]
            assert len(through) == 1, f"cut {number} ({kind}) goes through {len(through)} panels"
            (panel,) = through
            across = abs(y1 - y2) < NEAR
            off = y1 - panel.top if across else x1 - panel.left
            assert abs(off - ruler) < NEAR, f"cut {number} ({kind}): {off} is set as {ruler}"
            size = panel.right - panel.left, panel.bottom - panel.top
            alike.add((round(size[0], 3), round(size[1], 3), round(off, 3)))
            panels.remove(panel)
            panels += panel.split(x1, y1, across=across)
        assert len(alike) == 1, f"cut {number} ({kind}) goes through a stack that is not alike"
    return panels


def find(panels: Sequence[Panel], x: float, y: float, width: float, height: float) -> int:
    """How many panels are just this rectangle."""
    wanted = (x, y, x + width, y + height)
    return sum(
        all(
            abs(a - b) < NEAR
            for a, b in zip((p.left, p.top, p.right, p.bottom), wanted, strict=True)
        )
        for p in panels
    )
