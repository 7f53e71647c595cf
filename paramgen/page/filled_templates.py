"""The page's templates, in which every text is escaped unless it is a drawing of our own."""

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
