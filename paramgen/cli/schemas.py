"""JSON schemas of the files that others write or read."""

from typing import Any

from paramgen.nearest_word import did_you_mean
from paramgen.vocabulary.findings import Fault, InputError

#: Files that have a schema.
KINDS = ("plan", "recipe", "part", "kit")


def schema_of(what: str) -> dict[str, Any]:
    """JSON schema of a plan, a recipe, a part or a kit.

    Raises
    ------
    InputError
        If it is none of these.
    """
    match what:
        case "plan":
            from paramgen.plan.plan_format import schema

            return schema()
        case "recipe" | "part":
            from paramgen.recipe.file_schema import file_schema

            return file_schema(what)
        case "kit":
            from paramgen.kits.kit_format import kit_schema

            return kit_schema()
        case _:
            hint = did_you_mean(what, KINDS) or f"There are {', '.join(KINDS)}."
            raise InputError([Fault("there is no schema of that name", what, hint=hint)])
