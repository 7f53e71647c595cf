"""What holds for every test: its settings, and that none reads what a person has set."""

import os
import tempfile

from hypothesis import settings

#: An empty folder of settings, for the tests and for every process that they start.
_NOTHING = tempfile.TemporaryDirectory(prefix="paramgen-tests-")

for _name in ("XDG_CONFIG_HOME", "LOCALAPPDATA", "APPDATA"):
    os.environ[_name] = _NOTHING.name

# How long an example takes says how busy the machine is, and nothing of what is tried.
settings.register_profile("paramgen", deadline=None)
settings.load_profile("paramgen")
