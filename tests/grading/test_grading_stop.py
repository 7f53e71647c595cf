"""Rows made side by side; a run that is stopped at any moment is taken up where it stopped."""

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from folders import files_in

from paramgen.grading.kept_rows import PAGE, ROW

on_posix = pytest.mark.skipif(sys.platform == "win32", reason="forks, and sends signals")
on_linux = pytest.mark.skipif(sys.platform != "linux", reason="looks at processes in /proc")

HEAD = "recipe,name,width,outline,padding\n"
ROWS = [f"coaster,Coaster {width},{width},round,none\n" for width in range(90, 120)]
LINES = "".join(ROWS[:5])
LARGE = "coaster,Large,300,round,none\n"


def table_in(folder: Path, lines: str) -> Path:
    table = folder / "set.csv"
    table.write_text(HEAD + lines, "utf-8")
    return table


def start(table: Path, out: Path, jobs: int) -> subprocess.Popen[str]:
    options = ["--hoop", "130x180", "--files", "dst", "--no-papers", "--jobs", str(jobs)]
    return subprocess.Popen(
        [sys.executable, "-m", "paramgen", "grade", table, "--out", out, *options],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        encoding="utf-8",
        env={**os.environ, "XDG_CONFIG_HOME": os.devnull},
        start_new_session=True,
    )


@pytest.fixture(autouse=True)
def _hearing() -> Iterator[None]:
    """Let what is started hear SIGINT, also where a shell runs these tests in the background."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """All rows made by one process."""
    folder = tmp_path_factory.mktemp("whole")
    process = start(table_in(folder, LINES + LARGE), folder / "set", 1)
    out, err = process.communicate()
    assert process.returncode == 1, err
    assert "Made 5 of 6 rows" in out
    return folder / "set"


def test_two_workers_make_the_same_bytes_as_one(whole: Path, tmp_path: Path) -> None:
    process = start(table_in(tmp_path, LINES + LARGE), tmp_path / "set", 2)
    out, err = process.communicate()
    assert process.returncode == 1
    assert err.count("was not made") == 1
    assert "Row 7, Large, was not made:" in err
    assert out.startswith("Made 5 of 6 rows")
    assert files_in(tmp_path / "set") == files_in(whole)


def packs(out: Path) -> dict[str, Path]:
    """The rows that are there; what is still being written has a name with a dot before it."""
    return {file.parent.name: file for file in out.glob(f"[!.]*/{ROW}")}


def wait_for(out: Path, rows: int, process: subprocess.Popen[str]) -> None:
    while len(packs(out)) < rows:
        assert process.poll() is None
        time.sleep(0.01)


@on_linux
@pytest.mark.parametrize("rows", [0, 2])
def test_a_run_with_workers_that_is_killed_leaves_whole_rows_and_no_process(
    rows: int, whole: Path, tmp_path: Path
) -> None:
    table, out = table_in(tmp_path, LINES + LARGE), tmp_path / "set"
    process = start(table, out, 2)
    wait_for(out, rows, process)
    children = Path(f"/proc/{process.pid}/task/{process.pid}/children")
    workers = [Path(f"/proc/{child}") for child in children.read_text("ascii").split()]
    process.kill()
    process.wait()
    until = time.monotonic() + 20
    while any(worker.exists() for worker in workers):
        assert time.monotonic() < until, "a worker goes on without the one that started it"
        time.sleep(0.02)
    process.communicate()
    there = {name: file.stat().st_ino for name, file in packs(out).items()}
    assert rows <= len(there) < 5
    for name in there:
        assert files_in(out / name) == files_in(whole / name)
    assert not (out / PAGE).exists()
    # Taken up again: what was there stays, and in the end nothing tells that it was stopped.
    process = start(table, out, 2)
    said, _ = process.communicate()
    assert (f", {len(there)} of them before" in said) == bool(there)
    assert {name: file.stat().st_ino for name, file in packs(out).items() if name in there} == there
    assert files_in(out) == files_in(whole)


@on_posix
@pytest.mark.parametrize("jobs", [1, 2])
def test_ctrl_c_stops_without_a_traceback_and_says_how_to_go_on(jobs: int, tmp_path: Path) -> None:
    # Many rows, since what workers have begun when they are stopped is finished.
    table, out = table_in(tmp_path, "".join(ROWS)), tmp_path / "set"
    process = start(table, out, jobs)
    wait_for(out, 1, process)
    os.killpg(process.pid, signal.SIGINT)  # as a terminal sends it, to the workers too
    _, err = process.communicate()
    assert process.returncode == 130  # 128 and SIGINT's number, as shells have it
    assert err == "Stopped. Run the same command again: it goes on from here.\n"
    assert 1 <= len(packs(out)) < len(ROWS)
    assert [one.name for one in out.iterdir() if one.name not in packs(out)] == []


@on_posix
def test_a_run_killed_at_any_moment_is_taken_up_again(tmp_path: Path) -> None:
    table = table_in(tmp_path, "".join(LINES.splitlines(keepends=True)[:2]))
    script = Path(__file__).parents[1] / "helpers" / "grading_cut_short.py"
    run: list[str | Path] = [sys.executable, script, tmp_path / "runs", table, "29"]
    (tmp_path / "runs").mkdir()
    looks: list[dict[str, Any]] = json.loads(
        subprocess.run(run, check=True, capture_output=True).stdout
    )
    assert {len(look["rows"]) for look in looks} == {0, 1, 2}
    for look in looks:
        assert look["whole"]
        assert look["before"] == len(look["rows"])
        assert look["not made again"]
        assert look["same in the end"]


@on_linux
def test_a_worker_that_is_ended_from_outside_is_told(tmp_path: Path) -> None:
    table, out = table_in(tmp_path, LINES), tmp_path / "set"
    process = start(table, out, 2)
    wait_for(out, 1, process)
    children = Path(f"/proc/{process.pid}/task/{process.pid}/children").read_text("ascii").split()
    lines = {child: Path(f"/proc/{child}/cmdline").read_bytes() for child in children}
    worker = next(child for child, line in lines.items() if b"resource_tracker" not in line)
    os.kill(int(worker), signal.SIGKILL)
    _, err = process.communicate()
    assert process.returncode == 3
    assert "was ended from outside" in err
    assert "Traceback" not in err
    process = start(table, out, 2)
    said, _ = process.communicate()
    assert process.returncode == 0
    assert said.startswith("Made 5 of 5 rows")


@on_posix
def test_a_bar_of_progress_is_shown_to_a_person_only(tmp_path: Path) -> None:
    import pty  # noqa: PLC0415 (there is none on Windows)

    table = table_in(tmp_path, "".join(LINES.splitlines(keepends=True)[:2]))
    near, far = pty.openpty()
    options = ["--hoop", "130x180", "--files", "dst", "--no-papers", "--jobs", "1"]
    ran = subprocess.run(
        [sys.executable, "-m", "paramgen", "grade", table, "--out", tmp_path / "set", *options],
        stdout=subprocess.PIPE, stderr=far, check=True, env={**os.environ, "TERM": "xterm"},
    )  # fmt: skip
    os.close(far)
    shown = os.read(near, 100_000).decode()
    os.close(near)
    assert "Rows" in shown
    assert "2/2" in shown
    assert ran.stdout.decode().startswith("Made 2 of 2 rows")
    process = start(table, tmp_path / "set", 1)
    _, err = process.communicate()
    assert err == ""
