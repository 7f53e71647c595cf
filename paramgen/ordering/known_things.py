"""The things to hold that are known; apart from the hoops, which are asked for without them."""

from pathlib import Path

from paramgen.reference.things import Thing, listed_things, own_things


def known_things(own: Path | None = None) -> tuple[Thing, ...]:
    """The listed things and the person's own."""
    return listed_things(own or own_things())
