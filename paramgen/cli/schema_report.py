"""The schemas of the files that other programs read."""

import json

from paramgen.lengths import as_typed
from paramgen.nearest_word import did_you_mean
from paramgen.vocabulary.findings import Fault, InputError

_FILES = ("plan.json", "kit.json")


def schema_report(file: str) -> str:
    """JSON schema of a file, by its name.

    Raises
    ------
    InputError
        If there is no schema of such a file.
    """
    name = file if file.endswith(".json") else f"{file}.json"
    if name == "kit.json":
        from paramgen.kits.kit_format import kit_schema

        return json.dumps(kit_schema(), indent=1)
    if name == "plan.json":
        from paramgen.plan.plan_format import schema

        return json.dumps(schema(), indent=1)
    hint = did_you_mean(name, _FILES) or f"There are {' and '.join(_FILES)}."
    raise InputError([Fault(f"{as_typed(file)} has no schema", "FILE", hint=hint)])
