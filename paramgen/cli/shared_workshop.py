"""The workshop that the commands of one run share."""

from functools import cache

from paramgen.workshop import Workshop


@cache
def workshop() -> Workshop:
    """The workshop of this process."""
    return Workshop(())
