"""What the page shows of a project: each part, in order, from the same room as the commands."""

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from importlib.resources import files
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from prints import seedling, written

from paramgen.budget import MOST_BYTES
from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.front_end.scene import hooped
from paramgen.drawings.pictures.whole_project import whole
from paramgen.ordering.cloths_asked import fabric_roles
from paramgen.page.desk import Desk, desk, keep_print
from paramgen.page.edge_handles import edge_handles
from paramgen.page.project_parts import ShownProject, parts
from paramgen.page.tasks import PartsInTurn, project_changes, project_page
from paramgen.recipe.read_recipe import find_recipe, listed
from paramgen.reference.settings import Settings
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.unit import Unit

SVG = "{http://www.w3.org/2000/svg}"


@cache
def table() -> Desk:
    return desk({})


def shown(query: str) -> ShownProject:
    return ShownProject(table(), query)


def told(query: str) -> dict[str, str]:
    return dict(parts(shown(query)))


def test_the_picture_comes_before_the_verdict_and_that_before_the_rest() -> None:
    names = [name for name, _ in parts(shown("recipe=coaster&hoop=130x180"))]
    after = [
        name for name in names if not name.startswith("note-") and name not in ("asks", "panels")
    ]
    assert after[:3] == ["picture", "verdict", "findings"]


def test_what_is_dragged_is_given_as_its_picture_and_then_as_all_the_rest() -> None:
    query = "recipe=coaster&hoop=130x180"
    together = list(project_changes(table(), query, None, ""))
    picture = list(project_changes(table(), query, None, "picture"))
    rest = list(project_changes(table(), query, None, "rest"))
    assert [name for name, _ in picture] == ["picture"]
    assert picture + rest == together


def test_every_part_has_a_place_on_the_page_and_is_empty_before_there_is_any() -> None:
    html = (files("paramgen.page") / "html" / "project.html").read_text("utf-8")
    placed = set(re.findall(r'data-part="([\w-]+)"', html)) - {"asks"}
    given_out = {name for name in told("recipe=coaster&hoop=130x180") if "note-" not in name}
    assert given_out - {"asks"} == placed, "give each part a place (data-part) in project.html"


def test_the_page_gives_the_picture_before_the_rest_is_worked_out() -> None:
    pieces = list(project_page(table(), "recipe=coaster&hoop=130x180"))
    first = next(at for at, piece in enumerate(pieces) if "<svg" in piece)
    assert "What was found" not in "".join(pieces[: first + 1])
    assert "</html>" in pieces[-1]


def test_parts_are_looked_up_in_any_order_and_no_further_than_needed() -> None:
    taken: list[str] = []

    def found() -> Iterator[tuple[str, str]]:
        for name in ("picture", "verdict", "cut"):
            taken.append(name)
            yield name, f"<p>{name}"

    turn = PartsInTurn(found())
    assert (turn["verdict"], turn["picture"]) == ("<p>verdict", "<p>picture")
    assert taken == ["picture", "verdict"]
    assert (turn["none such"], turn["cut"]) == ("", "<p>cut")


@pytest.mark.parametrize("recipe", listed())
def test_the_picture_is_that_of_the_commands(recipe: str) -> None:
    # Theirs has the finished thing with it, and what a print of it would be; the page's has not.
    name, _ = keep_print(table(), written(seedling()))
    role = fabric_roles(table().recipe(recipe).file)[0]
    one = shown(f"recipe={recipe}&hoop=360x350&cloth={role}%3D{name},+repeat+30+mm")
    assert one.wanted is not None
    made = table().workshop.make(one.wanted.order, one.wanted.hoops)
    hoop = made.room.hoop
    scene = hooped(
        made.project, hoop.name, hoop.width, hoop.height, made.thing, made.move, one.wanted.cloths
    )
    theirs, found = to_svg(whole(scene)), dict(parts(one))
    assert _drawn(found["picture"]) == _drawn(theirs)
    # The words round theirs stand beside the page's.
    legend = re.findall(">([^<>]+)<", theirs.partition('id="whole-legend"')[2])
    captions = re.findall("> ([^<>]+)</li>", found["key"])
    assert captions
    assert set(" ".join(captions).split()) <= set(" ".join(legend).split())


def _drawn(svg: str) -> dict[str, list[str]]:
    """Where the lines of each group run, and what the picture says it shows."""
    found = {}
    for group in ElementTree.fromstring(svg.strip()).iter(f"{SVG}g"):
        name = group.attrib["id"].rpartition("whole-")[2]
        if name.startswith("stop-") or name in ("pieces", "gap"):
            found[name] = [line.attrib["d"] for line in group.iter(f"{SVG}path")]
    assert any(name.startswith("stop-") for name in found)
    said = re.findall("<(?:title|desc)[^>]*>([^<]*)<", svg.partition('id="whole-heading"')[0])
    return {**found, "says": said}


@pytest.mark.parametrize("recipe", listed())
def test_each_field_has_its_limits_and_what_it_is(recipe: str) -> None:
    form = shown(f"recipe={recipe}&hoop=360x350").form
    assert form is not None
    file = table().recipe(recipe).file
    assert [one.name for one in form.asks] == [*file.sizes, *file.counts, *file.choices]
    for one in form.asks:
        assert one.means
        assert one.now
        assert one.options or (one.least and one.most)


def test_a_fault_stands_at_its_field_and_the_picture_stays() -> None:
    found = told("recipe=coaster&hoop=130x180&my.width=9xmm")
    assert "9xmm" in found["note-width"]
    assert "picture" not in found
    assert "9xmm" not in found["note-height"]


def test_a_name_of_the_recipe_in_a_message_is_the_label_of_its_field_and_leads_there() -> None:
    found = told("recipe=clear-pouch&hoop=160x260&my.width=90mm&my.height=96mm")["findings"]
    words = re.sub(r"<[^>]+>", "", found)
    assert "set packet width and packet height to at most" in words
    assert "packet_" not in words
    form = shown("recipe=clear-pouch").form
    assert form is not None
    leads = re.findall(r'<a href="/project\?[^"#]*#f-(\w+)" data-field>', found)
    assert set(leads) == {"packet_width", "packet_height"} <= {one.name for one in form.fields}


def test_whoever_writes_the_recipe_reads_its_own_names() -> None:
    text = listed()["clear-pouch"].read_text("utf-8")
    query = "recipe=clear-pouch&hoop=160x260&my.width=90mm&my.height=96mm"
    found = dict(parts(ShownProject(table(), query, text)))["findings"]
    assert "set packet_width and packet_height to at most" in found


def test_what_is_not_understood_is_led_to_and_is_a_whole_sentence() -> None:
    found = told("recipe=clear-pouch&hoop=160x260&my.band=70mm&my.packet_width=abc")
    assert re.findall(r'#(f-\w+)" data-field', found["verdict"]) == ["f-band", "f-packet_width"]
    for name in ("band", "packet_width"):
        assert re.search(r'class="fault">[^<]*[^.]\.</span>', found[f"note-{name}"]), name


def test_a_fault_of_no_field_stands_with_the_verdict() -> None:
    assert "hoop" in told("recipe=coaster&hoop=130x18zz")["verdict"]


@pytest.mark.parametrize(
    ("asked", "name"),
    [
        ("hoop=5x7", "hoop"),
        ("copies=few", "copies"),
        ("margin=wide", "margin"),
        ("holds=my+own+thing", "holds"),
    ],
)
def test_a_fault_in_what_every_project_is_asked_stands_at_its_field(asked: str, name: str) -> None:
    found = told(f"recipe=zip-pouch&{asked}")
    notes = [part for part, html in found.items() if part.startswith("note-") and "fault" in html]
    assert notes == [f"note-at-{name}"]


@pytest.mark.parametrize("name", listed())
def test_every_recipe_opens_in_a_hoop_that_takes_it_where_none_is_named(name: str) -> None:
    one = shown(f"recipe={name}")
    assert one.made is not None
    hoop = one.in_hoop.hoop
    assert one.made.room.hoop.name == hoop
    # The usual one if that takes it: of the others none that is smaller does.
    usual = shown(f"recipe={name}&hoop=130x180")
    assert (hoop == "130x180") == (usual.made is not None)
    if usual.made is None:
        room, across, down = one.made.room.hoop, one.made.extent.width, one.made.extent.height
        for less in table().hoops:
            if less.width * less.height < room.width * room.height:
                assert not (across <= less.width and down <= less.height)
                assert not (down <= less.width and across <= less.height)
    page = "".join(project_page(table(), f"recipe={name}"))
    assert f'name="hoop" list="hoops" value="{hoop}"' in page


def test_a_hoop_that_is_named_stays_and_where_none_takes_it_the_usual_one_is_shown() -> None:
    assert shown("recipe=boxed-pouch&hoop=130x180").in_hoop.hoop == "130x180"
    assert shown("recipe=coaster&my.width=9999").in_hoop.hoop == "130x180"
    several = shown("recipe=boxed-pouch&hoop=100x100&hoop=130x180").in_hoop
    assert (several.hoop, several.more_hoops) == ("100x100", ("130x180",))


@given(width=st.floats(0, 1000, allow_nan=False), hoop=st.sampled_from(["100x100", "130x180"]))
@settings(max_examples=8)
def test_what_can_be_made_instead_can_be_made(width: float, hoop: str) -> None:
    one = shown(f"recipe=coaster&hoop={hoop}&my.width={width:.1f}mm")
    for finding in one.findings:
        for _, address in finding.ways:
            other = shown(address)
            assert other.attempt is not None
            assert other.attempt.made is not None, address


def test_a_refusal_leads_to_a_size_and_to_a_hoop() -> None:
    one = shown("recipe=coaster&hoop=100x100&my.width=110mm")
    assert one.attempt is not None
    assert one.attempt.made is None
    ways = [says for finding in one.findings for says, _ in finding.ways]
    assert any("width" in says for says in ways)
    assert any("hoop" in says for says in ways)


@pytest.mark.parametrize(
    "query", ["recipe=fold-wallet&hoop=130x180", "recipe=zip-pouch&hoop=130x180"]
)
def test_an_edge_that_is_dragged_lies_where_the_size_then_puts_it(query: str) -> None:
    # One of the two lies turned in this hoop: its width is then up and down.
    one = shown(query)
    assert one.attempt is not None
    handles = [*edge_handles(one.attempt)]
    assert {handle.across for handle in handles} == {True, False}
    for handle in handles:
        larger = shown(f"{query}&my.{handle.size}={handle.value - 6:.3f}mm")
        assert larger.attempt is not None
        (moved,) = (
            after
            for after in edge_handles(larger.attempt)
            if (after.size, after.across) == (handle.size, handle.across)
        )
        axis = 0 if handle.across else 1
        half_now, half_before = (abs(each.at[axis] - each.middle) for each in (moved, handle))
        # Both sides together grow by `times` for each mm of the size.
        assert half_before - half_now == pytest.approx(6 * handle.times / 2, abs=0.2)


def test_a_text_on_the_page_may_be_as_large_as_a_file(tmp_path: Path) -> None:
    text = listed()["coaster"].read_text("utf-8")
    file = tmp_path / "coaster.toml"
    # A letter of two bytes each: bytes are counted in both.
    most = text + "# " + "\N{LATIN SMALL LETTER E WITH ACUTE}" * 200_000
    most = most.encode()[: MOST_BYTES - 1].decode("utf-8", "ignore")
    most += "." * (MOST_BYTES - len(most.encode()))
    for whole_text, fits in ((most, True), (most + ".", False)):
        file.write_text(whole_text, "utf-8")
        one = ShownProject(table(), "recipe=coaster&hoop=130x180", whole_text)
        try:
            find_recipe(str(file))
        except InputError as problem:
            read = problem.faults[0].message
        else:
            read = ""
        seen = one.faults[0].message if one.faults else ""
        assert seen == read
        assert bool(read) != fits


def test_no_text_of_an_address_is_markup_in_the_page() -> None:
    evil = "%3Cscript%3Ealert(1)%3C/script%3E"
    found = told(f"recipe=coaster&hoop=130x180&title={evil}")
    assert not any(re.search(r"<script", html) for html in found.values())
    found = told(f"recipe={evil}&hoop={evil}&my.width={evil}")
    assert not any(re.search(r"<script", html) for html in found.values())


def test_the_unit_that_was_said_once_stays_whatever_the_hoop_is_called() -> None:
    asked = "recipe=coaster&hoop=6x10in"
    assert ShownProject(table(), asked).unit is Unit.INCH  # nothing else says one
    for said in (Settings(unit="mm"), Settings(unit="mm", hoops=("5x7in",))):
        at = replace(table(), settings=said)
        assert ShownProject(at, asked).unit is Unit.MM
        assert ShownProject(at, f"{asked}&my.width=wide").unit is Unit.MM  # not understood
    # What is typed now comes over what was said once.
    assert ShownProject(at, f"{asked}&my.width=4in").unit is Unit.INCH
    assert ShownProject(at, f"{asked}&unit=in").unit is Unit.INCH


@pytest.mark.parametrize("copies", [2, 30])
def test_stops_are_numbered_on_so_many_copies_as_hide_no_lines(copies: int) -> None:
    asked = f"recipe=bunting-flag&hoop=360x350&copies={copies}&my.width=50mm&my.length=40mm"
    found = told(asked)
    numbers = re.findall(r"<text[^>]*>(?:<tspan[^>]*>)?(\d)<", found["picture"])
    many, rest = divmod(len(numbers), 3)  # placement, tack-down and seam: three stops
    assert rest == 0
    assert sorted(numbers) == sorted("123" * many)
    if copies == 2:
        assert many == 2
        assert "numbered on" not in found["key"]
        return
    assert 1 <= many < 30
    assert f"Stops are numbered on {many} of the 30 copies" in found["key"]
