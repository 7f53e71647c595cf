"""JSON schemas of recipe files and part files, for editors: made from the declaration alone.

What such a schema refuses, the reader refuses too. The reader knows more: whether names hang
together, whether arithmetic can be worked out, which keys go with which.
"""

from typing import Any, Literal

from paramgen.recipe.language import PartFile, RecipeFile, StepsOfUse
from paramgen.recipe.read_part import GIVEN_WORDS
from paramgen.reference.materials import listed_materials

_DRAFT = {"$schema": "https://json-schema.org/draft/2020-12/schema"}

#: What the parts that a recipe uses may make instead of the recipe itself.
_MADE_BY_PARTS = ("pieces", "outlines", "lines")

#: Words of the language, or of a name, in a part: those that it is given can stand there too.
_WORDS_GIVEN = {"type": "string", "pattern": f"^{GIVEN_WORDS.pattern}$"}

#: Of texts in quotes no length is told: one on several lines is read as one on a single line.
_UNTOLD = {"title", "maxLength", "discriminator"}


def file_schema(kind: Literal["recipe", "part"]) -> dict[str, Any]:
    """JSON schema (draft 2020-12) of a file as it is written.

    Examples
    --------
    >>> file_schema("part")["properties"]["needs"]["additionalProperties"]
    {'$ref': '#/$defs/NeedTable'}
    """
    made = _recipe() if kind == "recipe" else PartFile.model_json_schema()
    made["$defs"]["FabricTable"]["properties"]["kind"]["enum"] = [*listed_materials()]
    tidy: dict[str, Any] = _tidy(made if kind == "recipe" else _given(made))
    return {**_DRAFT, "title": f"A {kind}", **tidy}


def _recipe() -> dict[str, Any]:
    """The schema of a recipe, some of whose steps and tables may come from parts."""
    made = RecipeFile.model_json_schema()
    made["$defs"]["StepsOfUse"] = StepsOfUse.model_json_schema()
    made["properties"]["steps"]["items"]["oneOf"].append({"$ref": "#/$defs/StepsOfUse"})
    made["required"] = [key for key in made["required"] if key not in _MADE_BY_PARTS]
    made["if"] = {"not": {"required": ["uses"]}}
    made["then"] = {
        "required": list(_MADE_BY_PARTS),
        "properties": {key: {"minProperties": 1} for key in ("pieces", "lines")},
    }
    for key in _MADE_BY_PARTS:
        made["properties"][key].pop("minProperties", None)
    return made


def _given(schema: Any) -> Any:
    """The same where words that a part is given may stand for a word of the language."""
    match schema:
        case {"type": "string", "enum": _} | {"type": "string", "const": _}:
            return {"anyOf": [schema, _WORDS_GIVEN]}
        case {"type": "string", "pattern": _}:
            return {"anyOf": [schema, _WORDS_GIVEN]}
        case dict():
            return {key: _given(value) for key, value in schema.items()}
        case list():
            return [_given(value) for value in schema]
        case _:
            return schema


def _tidy(schema: Any) -> Any:
    """The same without what pydantic says for itself, and names of entries told as names."""
    if isinstance(schema, list):
        return [_tidy(one) for one in schema]
    if not isinstance(schema, dict):
        return schema
    kept: dict[str, Any] = {
        key: _entries(value) if key in ("properties", "$defs") else _tidy(value)
        for key, value in schema.items()
        if key not in _UNTOLD and (key, value) not in (("default", None), ("default", []))
    }
    if "patternProperties" in kept:
        ((pattern, kept["additionalProperties"]),) = kept.pop("patternProperties").items()
        kept["propertyNames"] = {**schema.get("propertyNames", {}), "pattern": pattern}
    one_of = [one for one in kept.get("anyOf", ()) if one != {"type": "null"}]
    if len(one_of) == 1:
        del kept["anyOf"]
        return {**one_of[0], **kept}
    return kept


def _entries(entries: dict[str, Any]) -> dict[str, Any]:
    return {key: _tidy(value) for key, value in entries.items()}
