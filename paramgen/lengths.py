"""Lengths as people type and read them; millimetres inside."""

from enum import StrEnum


class Unit(StrEnum):
    """A unit a person may ask for."""

    MM = "mm"
    INCH = "in"
