"""A project taken from the page is what the command makes, byte by byte; nothing half-written."""

import asyncio
import io
import zipfile
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest
from command_line import paramgen
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from paramgen.ordering.typed_request import TypedRequest
from paramgen.page.desk import Desk, desk
from paramgen.page.guard import KEY, Guard
from paramgen.page.long_jobs import JobResult, JobStage, JobState, LongJobs
from paramgen.page.routes import application
from paramgen.page.taking_tasks import WHOLE, put_in_folder, take, take_page
from paramgen.page.tasks_by_name import prepare, prepare_long
from paramgen.page.typed_address import address_of
from paramgen.page.worker_processes import WorkerProcess
from paramgen.page.zip_of_files import zipped


@pytest.fixture(scope="module")
def table() -> Desk:
    return desk({})


def files_in(folder: Path) -> dict[str, bytes]:
    there = (one for one in folder.rglob("*") if one.is_file())
    return {one.relative_to(folder).as_posix(): one.read_bytes() for one in there}


def files_zipped(data: bytes) -> dict[str, bytes]:
    """Files of a zip without the one folder that holds them all."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert archive.testzip() is None
        found = {name: archive.read(name) for name in archive.namelist()}
    tops = {name.partition("/")[0] for name in found}
    assert len(tops) == 1
    return {name.partition("/")[2]: data for name, data in found.items()}


def as_command(words: TypedRequest, out: Path) -> list[str | Path]:
    """The command that asks for the same."""
    options = {
        "--hoop": words.hoop,
        "--unit": words.unit,
        "--files": words.files,
        "--paper": words.paper,
        "--booklet": words.booklet,
        "--title": words.title,
        "--copies": words.copies,
    }
    said = [part for name, value in options.items() if value for part in (name, value)]
    cloths = [part for one in words.cloths for part in ("--cloth", one)]
    return ["make", words.recipe, *words.values, *said, *cloths, "--out", out]


def result_of(told: Iterator[JobState | JobResult]) -> JobResult:
    *states, last = told
    assert isinstance(last, JobResult), last
    shares = [one.share for one in states if isinstance(one, JobState) and one.share is not None]
    assert shares == sorted(shares)
    return last


requests = st.builds(
    TypedRequest,
    recipe=st.just("coaster"),
    values=st.sampled_from(
        [("width=4 in",), ("width=92mm", "height=105mm"), ("outline=round", "width=90mm"), ()]
    ),
    hoop=st.sampled_from(["130x180", "5x7in", "200x300"]),
    unit=st.sampled_from(["", "mm", "in"]),
    files=st.sampled_from(["", "dst", "pes,jef"]),
    paper=st.sampled_from(["", "a4", "letter"]),
    booklet=st.sampled_from(["", "full"]),
    title=st.sampled_from(["", "Seed swap mat"]),
    copies=st.sampled_from(["", "2"]),
    cloths=st.sampled_from([(), ("top=teal",)]),
)


@settings(
    max_examples=4, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(words=requests)
def test_the_zip_holds_what_the_command_makes(
    words: TypedRequest, table: Desk, tmp_path_factory: pytest.TempPathFactory
) -> None:
    out = tmp_path_factory.mktemp("made") / "pack"
    ran = paramgen(*as_command(words, out))
    found = list(take(table, address_of(words), WHOLE))
    if ran.status:
        assert [one.stage for one in found if isinstance(one, JobState)][-1] is JobStage.REFUSED
        return
    data = result_of(iter(found)).data
    assert files_zipped(data) == files_in(out)


def test_one_file_is_the_same_as_in_the_pack(table: Desk, tmp_path: Path) -> None:
    words = TypedRequest(recipe="coaster", values=("width=100mm",), hoop="130x180")
    ran = paramgen(*as_command(words, tmp_path / "pack"))
    assert ran.status == 0
    pack = files_in(tmp_path / "pack")
    query = address_of(words)
    page = take_page(table, query, "")
    for name in (
        "stitch/coaster-100x100mm.dst",
        "stitch/coaster-100x100mm-v1.pes",
        "cutting/batting.svg",
        "templates.pdf",
    ):
        assert f'data-take="{name}"' in page
        found = result_of(take(table, query, name))
        assert found.data == pack[name]
        assert "coaster-100x100mm" in found.name
        assert "/" not in found.name


def test_a_zip_says_no_time_and_the_same_files_give_the_same_bytes() -> None:
    one = zipped({"b": {"x/y.txt": b"y", "a.txt": b"a"}, "a": {"z.txt": b"z"}}, {"s.csv": b"s"})
    other = zipped({"a": {"z.txt": b"z"}, "b": {"a.txt": b"a", "x/y.txt": b"y"}}, {"s.csv": b"s"})
    assert one == other
    with zipfile.ZipFile(io.BytesIO(one)) as archive:
        names = archive.namelist()
        # APPNOTE.TXT 4.4.6: a date of MS-DOS, which counts from 1980.
        assert {info.date_time for info in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    assert names == sorted(names)


@pytest.mark.parametrize(
    "wanted", ["../../etc/passwd", "/etc/passwd", "stitch/", "no.pdf", "", "booklet.html/"]
)
def test_what_the_pack_has_not_is_refused(table: Desk, wanted: str) -> None:
    *_, last = take(table, "recipe=coaster&hoop=130x180", wanted)
    assert isinstance(last, JobState)
    assert last.stage is JobStage.REFUSED


def test_what_cannot_be_made_is_refused_with_what_was_found(table: Desk) -> None:
    query = "recipe=coaster&hoop=100x100&my.width=150mm"
    (last,) = take(table, query, WHOLE)
    assert isinstance(last, JobState)
    assert (last.stage, "100 × 100 mm" in last.says) == (JobStage.REFUSED, True)
    page = take_page(table, query, "")
    assert "data-take" not in page
    assert "Cannot be made." in page


def test_a_folder_is_put_in_place_as_the_command_does(table: Desk, tmp_path: Path) -> None:
    words = TypedRequest(recipe="coaster", hoop="130x180", files="dst", title="Mat")
    query, out = address_of(words), tmp_path / "out"
    result_of(put_in_folder(table, query, "", str(out)))
    (folder,) = out.iterdir()
    assert paramgen(*as_command(words, tmp_path / "made")).status == 0
    assert files_in(folder) == files_in(tmp_path / "made")

    # The same once more replaces it; another of the same name is not replaced unasked.
    result_of(put_in_folder(table, query, "", str(out)))
    other = f"{query}&margin=2mm"
    before = files_in(folder)
    *_, last = put_in_folder(table, other, "", str(out))
    assert isinstance(last, JobState)
    assert last.stage is JobStage.REFUSED
    assert dict(last.facts) == {"another": "yes"}
    assert "--" not in last.says  # a page has no options
    assert files_in(folder) == before
    result_of(put_in_folder(table, other, "1", str(out)))
    assert files_in(folder) != before
    assert [one.name for one in out.iterdir()] == [folder.name]


def test_a_folder_that_a_person_added_to_is_left_alone(table: Desk, tmp_path: Path) -> None:
    query = "recipe=coaster&hoop=130x180&files=dst"
    result_of(put_in_folder(table, query, "", str(tmp_path)))
    (folder,) = tmp_path.iterdir()
    (folder / "my-notes.txt").write_text("linen")
    *_, last = put_in_folder(table, query, "1", str(tmp_path))
    assert isinstance(last, JobState)
    assert "my-notes.txt" in last.says
    assert (folder / "my-notes.txt").read_text() == "linen"


@pytest.mark.parametrize("title", ["../../up", "/etc", "..", "a/../../b", "C:\\x"])
def test_no_words_of_the_page_lead_out_of_the_folder(
    table: Desk, tmp_path: Path, title: str
) -> None:
    out = tmp_path / "deep" / "out"
    words = TypedRequest(recipe="coaster", hoop="130x180", files="dst", title=title)
    list(put_in_folder(table, address_of(words), "", str(out)))
    assert [one.name for one in tmp_path.iterdir()] == ["deep"]
    assert [one.name for one in (tmp_path / "deep").iterdir()] == ["out"]
    assert all(one.parent == out for one in out.iterdir())


def test_without_a_folder_nothing_is_put_anywhere(table: Desk) -> None:
    (last,) = put_in_folder(table, "recipe=coaster&hoop=130x180", "", "")
    assert isinstance(last, JobState)
    assert last.stage is JobStage.REFUSED


def test_it_is_taken_through_the_page_as_server_sent_events() -> None:
    async def played() -> None:
        quick, long = WorkerProcess(prepare, {}), WorkerProcess(prepare_long, {}, "")
        names = iter("abc")
        jobs = LongJobs(long, lambda: next(names))
        guarded = Guard(application(quick, jobs, {}), "secret", {"127.0.0.1"}, 80)
        there = httpx.ASGITransport(app=guarded)
        try:
            async with httpx.AsyncClient(transport=there, base_url="http://127.0.0.1") as client:
                await asked_through(client)
        finally:
            await jobs.close()
            await quick.close()

    asyncio.run(played())


async def asked_through(client: httpx.AsyncClient) -> None:
    asked = {"task": "take", "query": "recipe=coaster&hoop=130x180", "wanted": "templates.pdf"}
    assert (await client.post("/jobs", json=asked)).status_code == 403
    await client.get("/", params={KEY: "secret"})  # the token is kept in a cookie
    stranger = {"origin": "http://elsewhere.example"}
    assert (await client.post("/jobs", json=asked, headers=stranger)).status_code == 403
    for wrong in ({}, {"task": "prepare"}, {**asked, "wanted": 3}, {**asked, "query": None}):
        assert (await client.post("/jobs", json=wrong)).status_code == 400
    name = (await client.post("/jobs", json=asked)).json()["job"]
    events = await client.get(f"/jobs/{name}/events")
    assert events.headers["content-type"].startswith("text/event-stream")
    # HTML Standard, 9.2: an event is lines, each a field, ended by an empty line.
    assert events.text.endswith("\n\n")
    assert '"stage": "done"' in events.text.strip().splitlines()[-1]
    result = await client.get(f"/jobs/{name}/result")
    assert result.content.startswith(b"%PDF-")
    assert result.headers["content-disposition"].startswith("attachment;")
    assert (await client.get("/jobs/none/result")).status_code == 404
    assert (await client.get("/jobs/none/events")).status_code == 404
    assert (await client.post("/jobs/none/stop")).status_code == 404
    assert (await client.post(f"/jobs/{name}/stop")).status_code == 204
    assert 'data-take="zip"' in (await client.get("/take?recipe=coaster&hoop=130x180")).text
