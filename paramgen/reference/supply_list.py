"""What to have besides fabrics and notions: tools, thread, tape, and when each is needed."""

import tomllib
from functools import lru_cache
from typing import Annotated, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

from paramgen.installed import shared
from paramgen.reference.materials import listed_materials

WorkKind = Literal[
    "cut", "wash", "fold", "fuse", "edge-stitch", "hoop", "sew thick", "cut out in the hoop"
]
SupplyText = Annotated[str, Field(min_length=1)]


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True, defer_build=True)


class NeededCase(_Table):
    """When something is needed: where all that is named here holds.

    Parameters
    ----------
    work : str or None
        What is done to pieces before the hooping, the hooping itself, sewing where the layers
        are many or a zip is crossed, or cutting something out while the hoop holds it.
    act : str or None
        What a step does, as recipes say it.
    notion, hardware : str or None
        Sort of a notion that the project has; the second of one that is set at a place.
    material : str or None
        What one of its fabrics is.
    """

    work: WorkKind | None = None
    act: SupplyText | None = None
    notion: SupplyText | None = None
    hardware: SupplyText | None = None
    material: SupplyText | None = None

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if not self.model_fields_set:
            raise ValueError("a case names at least one thing that must hold")
        if self.material is not None and self.material not in listed_materials():
            raise ValueError(f"`{self.material}` is no material")
        return self


class ListedSupply(_Table):
    """Something to have.

    Parameters
    ----------
    name, title : str
        For programs, and for the person.
    sort : str
    note : str
        What to ask for, or what to do with it; may be empty.
    amount : str
        How much of it is reckoned; empty where one will do.
    when : tuple of NeededCase
        It is needed where one of them holds.
    source : str
        Where it is from that it is needed.
    """

    name: SupplyText
    title: SupplyText
    sort: Literal["stabiliser", "thread", "tape", "tool"]
    note: str = ""
    amount: Literal["", "sheet", "strips of tape", "needle thread", "bobbin thread"] = ""
    when: Annotated[list[NeededCase], Field(min_length=1)]
    source: SupplyText


class _Items(_Table):
    item: list[ListedSupply]


@lru_cache(maxsize=1)
def listed_supplies() -> tuple[ListedSupply, ...]:
    """Read what comes with the program."""
    return read_supplies((shared() / "supplies.toml").read_text("utf-8"))


def read_supplies(text: str) -> tuple[ListedSupply, ...]:
    """Read a list of supplies.

    Raises
    ------
    ValueError
        For an unknown key or word, a case that names nothing, or a name given twice.
    """
    items = tuple(_Items.model_validate(tomllib.loads(text)).item)
    names = [item.name for item in items]
    if twice := sorted({name for name in names if names.count(name) > 1}):
        raise ValueError(f"the same name twice: {', '.join(twice)}")
    return items
