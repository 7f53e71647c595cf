"""The program in a process of its own."""

import os
import subprocess
import sys
from pathlib import Path


def start(*words: str | Path, **settings: str) -> subprocess.Popen[str]:
    """Start the program as `python -m paramgen`, away from anyone's settings."""
    return subprocess.Popen(
        [sys.executable, "-m", "paramgen", *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        encoding="utf-8",
        env={**os.environ, "XDG_CONFIG_HOME": os.devnull, "PYTHONUTF8": "1", **settings},
    )
