"""Pages in the browser of the system, where it has one.

Without one these tests are skipped and say so; where `PARAMGEN_BROWSER` is `required`, they fail.
"""

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

CHROMIUM = shutil.which("chromium")

in_browser = pytest.mark.skipif(
    CHROMIUM is None and os.environ.get("PARAMGEN_BROWSER") != "required",
    reason="needs the browser `chromium` of the system",
)

QUIET = ("--disable-gpu", "--disable-dev-shm-usage", "--disable-extensions", "--no-first-run",
         "--disable-background-networking", "--no-sandbox")  # fmt: skip


def browse(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """Start the browser once, with words of its own."""
    return subprocess.run(
        [there(), "--headless=new", *QUIET, f"--user-data-dir={folder / 'profile'}",
         "--enable-logging=stderr", *words],
        capture_output=True, text=True, check=True, timeout=60,
    )  # fmt: skip


@contextmanager
def steered() -> Iterator[Browser]:
    """A browser that a test steers."""
    with sync_playwright() as steering:
        browser = steering.chromium.launch(executable_path=there(), args=list(QUIET))
        try:
            yield browser
        finally:
            browser.close()


def there() -> str:
    assert CHROMIUM is not None, "the browser `chromium` is required and is not installed"
    return CHROMIUM
