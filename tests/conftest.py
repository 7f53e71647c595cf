"""What holds for every test: its settings, and that none reads what a person has set."""

import os
import tempfile

from hypothesis import settings

#: An empty folder of settings, for the tests and for every process that they start.
_NOTHING = tempfile.TemporaryDirectory(prefix="paramgen-tests-")

for _name in ("XDG_CONFIG_HOME", "LOCALAPPDATA", "APPDATA"):
    os.environ[_name] = _NOTHING.name

# How long an example takes says how busy the machine is, and nothing of what is tried. The same
# examples each time: whether a change is taken is decided by the change, not by the draw.
# `--hypothesis-profile=search` draws anew, as do the scans.
settings.register_profile("paramgen", deadline=None, derandomize=True)
settings.register_profile("search", deadline=None, derandomize=False)
settings.load_profile("paramgen")
