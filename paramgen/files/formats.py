"""The kinds of stitch file and what each can carry.

Imports nothing but the standard library, so that the command line can list them at once.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Format:
    """A kind of stitch file.

    Parameters
    ----------
    name : str
        As typed on the command line.
    ending : str
        What follows the project's name in the file's name; differs for each kind.
    title : str
        For the person.
    longest_stitch : int or None
        Longest stitch along either axis, tenths of a millimetre; None for no limit.
    most_steps : int or None
        None for no limit.
    label_length : int or None
        Letters of the project's name it carries, in ASCII; 0 where it has no room for a
        name, None where any name will do.
    keeps_colours : bool
        Whether the colour of each step can be read back exactly.
    """

    name: str
    ending: str
    title: str
    longest_stitch: int | None
    most_steps: int | None
    label_length: int | None
    keeps_colours: bool


#: Every kind of file there is, in the order a person is shown them. The longest XXX stitch
#: is one less than the layout allows, as the longest is read as a move. DST counts changes
#: of colour in three digits, PES and VP3 count steps in one byte, XXX has 21 colour slots.
FORMATS = (
    Format("dst", ".dst", "stitches and stops", 121, 1000, 8, keeps_colours=False),
    Format("exp", ".exp", "stitches and stops, no header", 127, None, 0, keeps_colours=False),
    Format("pes", ".pes", "version 6, with colours", 2047, 255, 8, keeps_colours=True),
    Format("pes1", "-v1.pes", "version 1, nearest colours", 2047, 255, 8, keeps_colours=False),
    Format("jef", ".jef", "nearest colours", 127, None, 0, keeps_colours=False),
    Format("vp3", ".vp3", "with colours", 255, 255, 0, keeps_colours=True),
    Format("xxx", ".xxx", "with colours", 123, 21, 0, keeps_colours=True),
    Format("csv", ".csv", "a table to read", None, None, 8, keeps_colours=True),
    Format("json", ".json", "for other programs", None, None, 8, keeps_colours=True),
    Format("svg", ".svg", "a picture at true size", None, None, None, keeps_colours=True),
)
