"""The largest of two sizes at once that works in a hoop."""

from itertools import islice

from paramgen.fit.nearest_sizes import MOST_ASKED, marks_in
from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.fit.size_regions import regions
from paramgen.hooping import Room, largest, largest_together
from paramgen.lengths import MOST
from paramgen.making import resizing
from paramgen.sentences import SHOWN_TO


def largest_both(asking: RememberedChecks, room: Room) -> dict[str, float] | None:
    """Find the largest of both sizes, by their product.

    Parameters
    ----------
    asking : RememberedChecks
    room : Room

    Returns
    -------
    dict of name to mm, or None
        Whole marks of what is shown; a size that follows from the other may be left out. None
        if nothing that was tried works.
    """
    sized = asking.sized
    together = largest_together(sized, room, resizing(asking.order, sized), asking.works)
    if together and not asking.against(together, room):
        return together
    first, second, *_ = asking.sizes({})
    entries = asking.order.recipe.file.sizes
    least = [entries[name].least or 0.0 for name in (first, second)]
    if all(room.over((least[turned], least[not turned])) != (0.0, 0.0) for turned in room.ways):
        return None  # nothing needs less than its own size
    if alike := _alike(asking, first, second, room):
        return alike
    (region,) = regions(asking, first, second, (room,)).hoops
    # The largest first: seen from there, marks of equal product lie on a curve.
    marks = sorted(
        marks_in(region.area, (0.0, 0.0), SHOWN_TO[asking.unit]), key=lambda at: -at[0] * at[1]
    )
    pairs = ({first: at[0], second: at[1]} for at in islice(marks, MOST_ASKED))
    return next((pair for pair in pairs if not asking.against(pair, room)), None)


def _alike(
    asking: RememberedChecks, first: str, second: str, room: Room
) -> dict[str, float] | None:
    """The largest of both sizes where the recipe's numbers want them alike; else None."""
    entries, mark = asking.order.recipe.file.sizes, SHOWN_TO[asking.unit]
    low = max(entries[name].least or mark for name in (first, second))
    high = min(entries[name].most or MOST for name in (first, second))

    def found(turned: bool) -> float:
        return largest(
            low,
            high,
            lambda value: asking.excess({first: value, second: value}, room, turned=turned),
            step=mark,
        )

    best = max(found(turned) for turned in room.ways)
    pair = {first: best, second: best}
    others = [{**pair, name: best - mark} for name in pair]
    if not best or asking.against(pair, room) or not all(map(asking.by_numbers, others)):
        return None
    return pair
