"""Which look each fabric of a project has, by its part: outer, lining and the like."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import count
from types import MappingProxyType

from paramgen.drawings.primitives.items import Tone
from paramgen.drawings.primitives.paragraphs import fabric_name
from paramgen.vocabulary.cloth import NO_CLOTHS, Cloths
from paramgen.vocabulary.project import Notion, Project

#: Parts that most projects have look alike in all of them.
_USUAL: Mapping[str, int] = MappingProxyType({"outer": 0, "lining": 1, "pocket": 2, "ribbon": 3})


def tones_of(project: Project, cloths: Cloths = NO_CLOTHS) -> Mapping[str, Tone]:
    """Give every fabric of a project a place of its own, by the name that its pieces go by.

    Ribbon and the like that is laid as a notion has one too, and so has a tape that is folded
    over an edge.

    Parameters
    ----------
    project : Project
    cloths : mapping of name to Cloth
        What they look like, as far as the person said it.
    """
    # What has no right side comes last: it is known by its dots.
    faceless = project.faceless
    places = places_for(sorted(_names(project), key=lambda name: name in faceless))
    called = {one.name: one.short_title for one in _tapes(project)}
    return {
        name: Tone(
            place, called.get(name, fabric_name(name)), name not in faceless, cloths.get(name)
        )
        for name, place in places.items()
    }


def places_for(names: Iterable[str]) -> dict[str, int]:
    """Give each name a place; usual ones have their own, the others the first that are free.

    >>> places_for(["top", "lining", "back"])
    {'top': 0, 'lining': 1, 'back': 2}
    """
    known = list(dict.fromkeys(names))
    taken = {_USUAL[name] for name in known if name in _USUAL}
    free = (place for place in count() if place not in taken)
    return {name: _USUAL[name] if name in _USUAL else next(free) for name in known}


def _names(project: Project) -> Iterator[str]:
    yield from (one.role for one in project.fabrics)
    yield from (piece.fabric for piece in project.pieces)
    for step in project.steps:
        yield from (layer.fabric for layer in step.layers if not layer.slit)
    yield from (tape.name for tape in _tapes(project))


def _tapes(project: Project) -> Iterator[Notion]:
    """Those that are folded over an edge; they go by what they are had as."""
    return (notion for notion in project.notions if notion.over_edge)
