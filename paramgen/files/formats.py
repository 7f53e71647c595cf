"""The kinds of stitch file and what each can carry.

Imports nothing but the standard library, so that the command line can list them at once.
"""

from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True, kw_only=True)
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
    Format(
        name="dst",
        ending=".dst",
        title="stitches and stops",
        longest_stitch=121,
        most_steps=1000,
        label_length=8,
        keeps_colours=False,
    ),
    Format(
        name="exp",
        ending=".exp",
        title="stitches and stops, no header",
        longest_stitch=127,
        most_steps=None,
        label_length=0,
        keeps_colours=False,
    ),
    Format(
        name="pes",
        ending=".pes",
        title="version 6, with colours",
        longest_stitch=2047,
        most_steps=255,
        label_length=8,
        keeps_colours=True,
    ),
    Format(
        name="pes1",
        ending="-v1.pes",
        title="version 1, nearest colours",
        longest_stitch=2047,
        most_steps=255,
        label_length=8,
        keeps_colours=False,
    ),
    Format(
        name="jef",
        ending=".jef",
        title="nearest colours",
        longest_stitch=127,
        most_steps=None,
        label_length=0,
        keeps_colours=False,
    ),
    Format(
        name="vp3",
        ending=".vp3",
        title="with colours",
        longest_stitch=255,
        most_steps=255,
        label_length=0,
        keeps_colours=True,
    ),
    Format(
        name="xxx",
        ending=".xxx",
        title="with colours",
        longest_stitch=123,
        most_steps=21,
        label_length=0,
        keeps_colours=True,
    ),
    Format(
        name="csv",
        ending=".csv",
        title="a table to read",
        longest_stitch=None,
        most_steps=None,
        label_length=8,
        keeps_colours=True,
    ),
    Format(
        name="json",
        ending=".json",
        title="for other programs",
        longest_stitch=None,
        most_steps=None,
        label_length=8,
        keeps_colours=True,
    ),
    Format(
        name="svg",
        ending=".svg",
        title="a picture at true size",
        longest_stitch=None,
        most_steps=None,
        label_length=None,
        keeps_colours=True,
    ),
)
