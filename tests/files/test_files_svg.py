"""The picture of the needle points: true size, a group a step, a path a run."""

from xml.etree import ElementTree as ET

from files_designs import outline, step

from paramgen.files import needle_svg
from paramgen.files.format_choice import formats_named
from paramgen.stitches.needle_points import SewnStep

(SVG,) = formats_named(["svg"])
_IN = {"s": "http://www.w3.org/2000/svg"}


def _drawn(steps: list[SewnStep], label: str = "tag") -> ET.Element:
    return ET.fromstring(needle_svg.encode(steps, SVG, label).decode())


def test_the_picture_is_at_true_size_and_in_place() -> None:
    # 90 × 60 mm with its top left corner 40 mm left of the middle and 25 mm above it, and
    # 1 mm all round: 92 × 62 mm from (-41, -26). One user unit is 1 mm.
    root = _drawn([step(1, outline((-400, -250), 900, 600))])
    assert (root.get("width"), root.get("height")) == ("92.0mm", "62.0mm")
    assert root.get("viewBox") == "-41.0 -26.0 92.0 62.0"


def test_each_step_is_a_group_in_its_colour_and_each_run_a_path() -> None:
    steps = [step(1, [(0, 0), (5, -12)], [(30, 1), (40, 1), (40, 9)]), step(2, [(7, 7), (9, 9)])]
    groups = _drawn(steps).findall("s:g", _IN)
    assert [group.get("id") for group in groups] == ["stop-1", "stop-2"]
    assert [group.get("stroke") for group in groups] == [each.colour for each in steps]
    assert [[path.get("d") for path in group.findall("s:path", _IN)] for group in groups] == [
        ["M 0.0,0.0 0.5,-1.2", "M 3.0,0.1 4.0,0.1 4.0,0.9"],
        ["M 0.7,0.7 0.9,0.9"],
    ]


def test_titles_may_hold_anything() -> None:
    # XML 1.0 allows no control characters and no lone surrogates (section 2.2, Char).
    title = 'Tüte <b> & "種"\x00\x1b\ud800'
    root = _drawn([step(1, [(0, 0), (9, 9)], title=title)], label=title)
    assert root.findtext("s:g/s:title", namespaces=_IN) == '1. Tüte <b> & "種"   '
    assert root.findtext("s:title", namespaces=_IN) == 'Tüte <b> & "種"   '


def test_a_vertex_off_the_grid_is_read_as_it_stands() -> None:
    data = needle_svg.encode([step(1, [(0, 0), (12, 34)])], SVG, "tag")
    moved = data.replace(b"1.2,3.4", b"1.2004,3.4")
    assert needle_svg.read_back(moved, SVG)[0].needles.tolist() == [[0, 0], [12.004, 34]]
