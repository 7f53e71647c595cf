"""The top level of the project holds a few names and no others."""

import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
WANTED = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "paramgen",
    "tests",
    "templates",
    "shared",
}
git = shutil.which("git")
in_a_clone = pytest.mark.skipif(
    git is None or not (ROOT / ".git").exists(), reason="only git knows what belongs to the project"
)


def _tracked() -> list[str]:
    # The folder may be another user's, as when it is mounted into a container.
    asked = [str(git), "-c", f"safe.directory={ROOT}", "ls-files", "-z"]
    listed = subprocess.run(asked, cwd=ROOT, capture_output=True, check=True, encoding="utf-8")
    return [name for name in listed.stdout.split("\0") if name]


@in_a_clone
def test_the_top_level_holds_what_it_should_and_files_with_a_dot() -> None:
    names = {name.partition("/")[0] for name in _tracked()}
    assert {name for name in names if not name.startswith(".")} == WANTED


@in_a_clone
def test_nothing_that_a_run_leaves_behind_is_kept() -> None:
    left = ("__pycache__", ".hypothesis", ".mypy_cache", ".ruff_cache", ".pytest_cache", ".venv")
    assert not [name for name in _tracked() if any(part in left for part in name.split("/"))]
