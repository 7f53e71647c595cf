"""Materials that things are sewn from, and how thick a layer of each is."""

import tomllib
from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from paramgen.installed import shared
from paramgen.vocabulary.material import Material

#: Taken for the fabrics of a recipe that does not say what they are.
ANY_CLOTH = "cloth"
#: What a zip and a notion that is laid are made of, by the sort of the notion.
NOTIONS = MappingProxyType({"zip": "zip-tape", "ribbon": "ribbon", "elastic": "ribbon"})


@lru_cache(maxsize=1)
def listed_materials() -> Mapping[str, Material]:
    """Read the materials that come with the program, by name."""
    text = (shared() / "materials.toml").read_text("utf-8")
    return MappingProxyType(
        {
            one["name"]: Material(**{**one, "ply": (one["ply"][0], one["ply"][1])})
            for one in tomllib.loads(text)["material"]
        }
    )


def of_sort(*sorts: str) -> list[str]:
    """Names of the materials of some sorts."""
    return [one.name for one in listed_materials().values() if one.sort in sorts]
