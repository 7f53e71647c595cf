"""The unit a person may ask for."""

from enum import StrEnum


class Unit(StrEnum):
    """A unit a person may ask for."""

    MM = "mm"
    INCH = "in"
