"""Materials that things are sewn from, and how thick a layer of each is."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from paramgen.installed import shared

#: Taken for the fabrics of a recipe that does not say what they are.
ANY_CLOTH = "cloth"
#: What a zip and a notion that is laid are made of, by the sort of the notion.
NOTIONS = MappingProxyType({"zip": "zip-tape", "ribbon": "ribbon", "elastic": "ribbon"})


@dataclass(frozen=True)
class Material:
    """A material as it is sold.

    Parameters
    ----------
    name, title : str
        For recipes and for the person.
    sort : str
        `fabric`, `interfacing`, `batting` or `trim`.
    ply : (float, float)
        Least and most thickness of one layer, pressed and under stitches, mm: an estimate.
    ask_for : str
        What to say when buying it.
    wash : bool
        Whether it is washed before it is cut.
    source : str
        Where the thickness is from.
    needle, point : str
        The finest needle that goes through it, `90/14`, and the point that it takes; empty where
        any does.
    """

    name: str
    title: str
    sort: str
    ply: tuple[float, float]
    ask_for: str
    wash: bool
    source: str
    needle: str = ""
    point: str = ""


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
