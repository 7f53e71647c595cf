"""The page's templates, in which every text is escaped unless it is a drawing of our own."""

from collections.abc import Iterator
from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined


@cache
def _templates() -> Environment:
    return Environment(
        loader=PackageLoader("paramgen.page", "html"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def filled(name: str, /, **given: object) -> str:
    """Fill in a template by the name of its file."""
    return _templates().get_template(name).render(**given)


#: Pieces of a page that is sent as it is filled in are about so large, characters.
PIECE = 8000


def filled_in_turn(name: str, /, **given: object) -> Iterator[str]:
    """Fill in a template, and give what there is of it before what follows is worked out."""
    ready: list[str] = []
    for text in _templates().get_template(name).generate(**given):
        ready.append(text)
        if len(text) > PIECE:
            yield "".join(ready)
            ready.clear()
    yield "".join(ready)
