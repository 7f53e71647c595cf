import pytest

from paramgen.drawings.front_end.labels import Label, labelled
from paramgen.drawings.primitives.items import DrawnItem, Shape, Style, Text
from paramgen.drawings.primitives.label_room import any_cross
from paramgen.drawings.primitives.paragraphs import TextLine
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.path import Point

COLUMN = Box(100.0, 0.0, 150.0, 200.0)


def lines(items: tuple[DrawnItem, ...]) -> list[tuple[Point, Point]]:
    points = [
        item.path.points.tolist()
        for item in items
        if isinstance(item, Shape) and item.style is Style.LEADER
    ]
    return [((a[0], a[1]), (b[0], b[1])) for a, b in points]


def test_a_label_lies_beside_what_it_is_about_and_its_line_leads_there() -> None:
    items, bottom = labelled(
        (Label((20.0, 80.0), (TextLine("Tab"), TextLine("one"))),), COLUMN, 3.0
    )
    texts = [item for item in items if isinstance(item, Text)]
    assert [text.words for text in texts] == ["Tab", "one"]
    assert all(text.at[0] == COLUMN.left for text in texts)
    assert (texts[0].box.top + texts[1].box.bottom) / 2 == pytest.approx(80.0)
    assert bottom == texts[1].box.bottom
    ((start, end),) = lines(items)
    assert end == (20.0, 80.0)
    assert start[0] < COLUMN.left


def test_labels_change_places_where_their_lines_would_cross() -> None:
    # The far point lies just above the near one: in their order from the top down, the
    # line to the far one would run across the other.
    far, near = Label((0.0, 90.0), (TextLine("far"),)), Label((95.0, 91.0), (TextLine("near"),))
    crowd = [Label((96.0, 60.0), (TextLine("words " * 100),))]
    items, _ = labelled((*crowd, far, near), COLUMN, 3.0)
    assert any_cross(lines(items)) is None
    texts = [item.words for item in items if isinstance(item, Text)]
    assert texts.index("near") < texts.index("far")


def test_a_label_may_be_wanted_lower_than_its_point() -> None:
    items, _ = labelled((Label((20.0, 80.0), (TextLine("slider"),), drop=30.0),), COLUMN, 3.0)
    (text,) = (item for item in items if isinstance(item, Text))
    assert (text.box.top + text.box.bottom) / 2 == pytest.approx(110.0)


def test_no_labels_take_no_room() -> None:
    assert labelled((), COLUMN, 3.0) == ((), COLUMN.top)
