"""Random pieces, cloths and ways to cut them."""

from hypothesis import strategies as st

from paramgen.amounts.project_materials import ClothToCut, PieceToCut
from paramgen.kits.cloth_there import ClothThere, Cutting, OneWay
from paramgen.vocabulary.kinds import Grain

#: Ruler marks that cut sizes are on, mm, and sizes that are on none.
MARKS = (1.0, 25.4 / 8, 25.4 / 4, 0.37)


@st.composite
def cloths(draw: st.DrawFn, *, most: int = 12) -> ClothToCut:
    mark = draw(st.sampled_from(MARKS))
    sides = st.integers(int(20 / mark), int(330 / mark)).map(lambda many: round(many * mark, 9))
    pieces = [
        PieceToCut(
            name=f"piece-{number}",
            title=f"piece {number}",
            quantity=draw(st.integers(1, most)),
            cut=(draw(sides), draw(sides)),
            grain=draw(st.sampled_from([Grain.WIDTH, Grain.HEIGHT, Grain.ANY])),
        )
        for number in range(draw(st.integers(1, 7)))
    ]
    return ClothToCut(role="outer", sort="fabric", title="", wash=False, pieces=tuple(pieces))


@st.composite
def there(draw: st.DrawFn) -> tuple[ClothThere, ...]:
    remnants = [
        ClothThere(
            role="outer",
            width=draw(st.integers(100, 900)),
            length=draw(st.integers(60, 900)),
            bought=False,
            selvedges=draw(st.integers(0, 2)),
        )
        for _ in range(draw(st.integers(0, 2)))
    ]
    bought = draw(
        st.sampled_from(
            [
                ClothThere(role="outer", width=1100),
                ClothThere(role="outer", width=42 * 25.4),
                ClothThere(role="outer", width=500, selvedges=0),
                ClothThere(role="outer", width=559, length=457, pieces=None, selvedges=1),
            ]
        )
    )
    return (*remnants, bought)


def ways_to_cut() -> st.SearchStrategy[Cutting]:
    return st.builds(
        Cutting,
        selvedge=st.sampled_from([0.0, 12.7, 25.0]),
        squaring=st.sampled_from([0.0, 12.7, 25.0]),
        layers=st.integers(1, 8),
        stages=st.sampled_from([2, 3]),
        shrinkage=st.sampled_from([0.0, 0.03]),
    )


def one_way() -> st.SearchStrategy[OneWay]:
    return st.sampled_from([OneWay.NO, OneWay.NO, OneWay.NO, OneWay.ALONG, OneWay.ACROSS])


def print_repeats() -> st.SearchStrategy[tuple[int, int]]:
    """Repeats of a print, across and along, mm."""
    return st.tuples(st.integers(20, 300), st.integers(20, 300))
