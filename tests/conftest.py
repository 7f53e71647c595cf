"""No test reads what the person running it has set for themselves."""

import os
import tempfile

#: An empty folder of settings, for the tests and for every process that they start.
_NOTHING = tempfile.TemporaryDirectory(prefix="paramgen-tests-")

for _name in ("XDG_CONFIG_HOME", "LOCALAPPDATA", "APPDATA"):
    os.environ[_name] = _NOTHING.name
