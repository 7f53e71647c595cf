"""Frozen data does what the standard library's does, which is asked beside it."""

import copy
import dataclasses
import pickle
import re
from collections.abc import Callable
from dataclasses import FrozenInstanceError, asdict, field, fields, replace
from functools import cached_property
from pathlib import Path
from typing import Any

import pytest

from paramgen.vocabulary import frozen_data

PACKAGE = Path(frozen_data.__file__).parents[1]

BOTH = pytest.mark.parametrize("make", [frozen_data.dataclass, dataclasses.dataclass])


def _piece(make: Callable[..., Any]) -> Any:
    @make(frozen=True)
    class Piece:
        """A piece of cloth."""

        title: str
        width: float = 40.0
        tags: list[str] = field(default_factory=list, compare=False)
        cut_from: str = field(default="cotton", repr=False)
        count: int = field(default=1, kw_only=True)
        shown: str = field(init=False, default="unset")

        def __post_init__(self) -> None:
            object.__setattr__(self, "shown", f"{self.count} × {self.title}")

        @cached_property
        def area(self) -> float:
            return self.width**2

    return Piece


@BOTH
def test_takes_values_by_place_and_name_and_makes_its_own_where_none_is_given(
    make: Callable[..., Any],
) -> None:
    piece = _piece(make)
    one, other = piece("lining", 50.0, count=2), piece("lining")
    assert (one.width, other.width, one.shown) == (50.0, 40.0, "2 × lining")
    assert one.tags == []
    assert one.tags is not other.tags
    assert one.area == 2500.0  # 50 × 50
    with pytest.raises(TypeError, match="title"):
        piece()
    with pytest.raises(TypeError):
        piece("lining", 50.0, [], "cotton", 2)
    with pytest.raises(TypeError, match="shown"):
        piece("lining", shown="no")


@BOTH
def test_equal_where_all_that_is_compared_is_and_then_hashed_alike(
    make: Callable[..., Any],
) -> None:
    piece = _piece(make)
    assert piece("lining", tags=["a"]) == piece("lining", tags=["b"])
    assert hash(piece("lining", tags=["a"])) == hash(piece("lining", tags=["b"]))
    assert piece("lining") != piece("lining", 41.0)
    assert piece("lining") != _piece(make)("lining")  # another class of the same fields
    assert piece("lining") != ("lining", 40.0)


@BOTH
def test_without_eq_each_is_itself_alone(make: Callable[..., Any]) -> None:
    @make(frozen=True, eq=False, kw_only=True)
    class Line:
        """A line."""

        at: list[float]

    line: Any = Line
    one, other = line(at=[1.0]), line(at=[1.0])
    assert one != other
    assert len({one, other}) == 2
    with pytest.raises(TypeError):
        line([1.0])


@BOTH
def test_is_shown_by_the_names_of_its_fields(make: Callable[..., Any]) -> None:
    told = repr(_piece(make)("lining"))
    assert told.endswith("Piece(title='lining', width=40.0, tags=[], count=1, shown='1 × lining')")


@BOTH
def test_refuses_to_be_changed(make: Callable[..., Any]) -> None:
    piece = _piece(make)("lining")
    with pytest.raises(FrozenInstanceError, match="title"):
        piece.title = "outer"
    with pytest.raises(FrozenInstanceError, match="width"):
        del piece.width
    assert (piece.title, piece.width) == ("lining", 40.0)


@BOTH
def test_one_derived_from_another_has_its_fields_too(make: Callable[..., Any]) -> None:
    @make(frozen=True)
    class Cloth:
        """Cloth."""

        title: str

    @make(frozen=True)
    class Felt(Cloth):
        """Felt."""

        thick: float = 1.0

        def __repr__(self) -> str:
            return f"felt {self.thick}"

    felt: Any = Felt
    assert felt("felt", 2.0) == felt("felt", thick=2.0) != felt("felt")
    assert repr(felt("felt")) == "felt 1.0"  # its own words stay
    assert [one.name for one in fields(felt)] == ["title", "thick"]


@BOTH
def test_what_reads_such_data_reads_it_so(make: Callable[..., Any]) -> None:
    piece = _piece(make)("lining", tags=["a"])
    assert replace(_Kept("one", 2), count=3) == _Kept("one", 3)
    assert asdict(piece)["width"] == 40.0
    assert asdict(piece)["tags"] == ["a"]
    assert copy.copy(piece) == piece


@frozen_data.dataclass(frozen=True)
class _Kept:
    """At the top of a module, so that it can be pickled."""

    title: str
    count: int


def test_goes_from_process_to_process() -> None:
    assert pickle.loads(pickle.dumps(_Kept("one", 2))) == _Kept("one", 2)


def test_one_without_fields_and_one_field_alone() -> None:
    @frozen_data.dataclass(frozen=True)
    class Nothing:
        """Has no field."""

    @frozen_data.dataclass(frozen=True)
    class One:
        """Has one."""

        at: float

    assert Nothing() == Nothing()
    assert hash(Nothing()) == hash(Nothing())
    assert One(1.0) == One(1.0) != One(2.0)


def test_what_is_not_frozen_or_is_ordered_is_left_to_the_standard_library() -> None:
    @frozen_data.dataclass
    class Open:
        """May be changed."""

        at: int

    @frozen_data.dataclass(frozen=True, order=True)
    class Rank:
        """Is ordered."""

        at: int

    one = Open(1)
    one.at = 2
    assert one == Open(2)
    assert Rank(1) < Rank(2)


def test_all_frozen_data_is_made_so() -> None:
    slow = re.compile(r"^from dataclasses import .*\bdataclass\b", re.MULTILINE)
    texts = {path: path.read_text() for path in PACKAGE.rglob("*.py")}
    frozen = [path for path, text in texts.items() if "@dataclass(frozen=True" in text]
    assert len(frozen) > 200
    assert [path.name for path in frozen if slow.search(texts[path])] == []
