"""`dataclass` as in the standard library, made in a fraction of the time where it is frozen.

A command lasts some tenths of a second, and a third of that went into making its 250 classes: up to
Python 3.12 the standard decorator compiles six methods for each of them. Here one is compiled,
`__init__`; to compare, hash and show, and to refuse a change, are the same few functions for every
class. `fields`, `replace`, `asdict` and pickling work as ever. What is not frozen, or is ordered,
is left to the standard library.
"""

import dataclasses
from collections.abc import Callable
from operator import attrgetter
from typing import TYPE_CHECKING, Any, NoReturn

#: Stands for a value not given where the field makes its own.
_UNSET: Any = object()


def _frozen(cls: type[Any], *, eq: bool, kw_only: bool) -> type[Any]:
    dataclasses.dataclass(init=False, repr=False, eq=False, kw_only=kw_only)(cls)
    fields = dataclasses.fields(cls)
    methods: dict[str, Callable[..., Any]] = {
        "__init__": _init(cls, fields),
        "__repr__": _repr(fields),
        "__setattr__": _refuse_to_set,
        "__delattr__": _refuse_to_delete,
    }
    if eq:
        compared = [field for field in fields if field.compare]
        hashed = [one for one in fields if (one.compare if one.hash is None else one.hash)]
        methods |= {"__eq__": _eq(_values(compared)), "__hash__": _hash(_values(hashed))}
    for name, method in methods.items():
        if name not in cls.__dict__:
            setattr(cls, name, method)
    return cls


def _init(cls: type[Any], fields: tuple[dataclasses.Field[Any], ...]) -> Callable[..., None]:
    """Compile `__init__`, which sets past `__setattr__`, as the standard one does."""
    known: dict[str, Any] = {"_set": object.__setattr__, "_unset": _UNSET}
    told: dict[bool, list[str]] = {False: [], True: []}
    lines: list[str] = []
    for field in fields:
        name, value = field.name, field.name
        if field.default_factory is not dataclasses.MISSING:
            known[f"_made_{name}"] = field.default_factory
            value = f"_made_{name}()" + (f" if {name} is _unset else {name}" if field.init else "")
            default = "=_unset"
        elif field.default is not dataclasses.MISSING:
            known[f"_else_{name}"] = field.default
            default = f"=_else_{name}"
        else:
            default = ""
        if field.init:
            told[bool(field.kw_only)].append(name + default)
        if value != name or field.init:
            lines.append(f" _set(self, {name!r}, {value})")
    if hasattr(cls, "__post_init__"):
        lines.append(" self.__post_init__()")
    taken = ", ".join(["self", *told[False], *(["*", *told[True]] if told[True] else [])])
    exec("\n".join([f"def __init__({taken}):", *(lines or [" pass"])]), known)
    known["__init__"].__qualname__ = f"{cls.__qualname__}.__init__"
    made: Callable[..., None] = known["__init__"]
    return made


def _values(fields: list[dataclasses.Field[Any]]) -> Callable[[Any], Any]:
    return attrgetter(*(field.name for field in fields)) if fields else lambda _: ()


def _repr(fields: tuple[dataclasses.Field[Any], ...]) -> Callable[[Any], str]:
    names = [field.name for field in fields if field.repr]

    def shown(data: Any) -> str:
        told = ", ".join(f"{name}={getattr(data, name)!r}" for name in names)
        return f"{type(data).__qualname__}({told})"

    return shown


def _eq(values: Callable[[Any], Any]) -> Callable[[Any, object], Any]:
    def equal(one: Any, other: object) -> Any:
        return values(one) == values(other) if other.__class__ is one.__class__ else NotImplemented

    return equal


def _hash(values: Callable[[Any], Any]) -> Callable[[Any], int]:
    def hashed(data: Any) -> int:
        return hash(values(data))

    return hashed


def _refuse_to_set(_: Any, name: str, __: object) -> NoReturn:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


def _refuse_to_delete(_: Any, name: str) -> NoReturn:
    raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")


if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass  # noqa: PLC0414 (so that it is exported)
else:

    def dataclass(cls=None, /, *, frozen=False, eq=True, order=False, kw_only=False):
        """Make a class of data, as `dataclasses.dataclass` does with the same options."""

        def made(cls):
            if frozen and not order:
                return _frozen(cls, eq=eq, kw_only=kw_only)
            return dataclasses.dataclass(cls, frozen=frozen, eq=eq, order=order, kw_only=kw_only)

        return made if cls is None else made(cls)
