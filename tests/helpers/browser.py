"""Pages in the browser of the system, where it has one."""

import shutil
import subprocess
from pathlib import Path

CHROMIUM = shutil.which("chromium")


def browse(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    assert CHROMIUM is not None
    options = ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"]
    quiet = ["--disable-extensions", "--no-first-run", "--disable-background-networking"]
    return subprocess.run(
        [CHROMIUM, *options, *quiet, f"--user-data-dir={folder / 'profile'}",
         "--enable-logging=stderr", *words],
        capture_output=True, text=True, check=True, timeout=60,
    )  # fmt: skip
