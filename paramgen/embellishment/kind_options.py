"""What may be asked of a kind of embellishment, and what was asked."""

from collections.abc import Mapping
from dataclasses import field
from types import MappingProxyType
from typing import TYPE_CHECKING

from paramgen.vocabulary.frozen_data import dataclass

if TYPE_CHECKING:  # recipes know what is asked, and are listed and read without its stitches
    from paramgen.embellishment.motif_stitches import MotifStitches

#: No more are asked for of one project.
MOST_ASKED = 12

OptionValue = str | float


@dataclass(frozen=True, kw_only=True)
class WordOption:
    """One of several words, which stands alone: `diagonal`.

    Parameters
    ----------
    name : str
    words : mapping of word to what it means
        The first is taken where none is said.
    also : mapping of word to word
        Others that people have for them.
    """

    name: str
    words: Mapping[str, str]
    also: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True, kw_only=True)
class MeasureOption:
    """A length, or a plain number such as an angle: `20mm`, `stitch 2.5mm`, `angle 30`.

    Parameters
    ----------
    name : str
        Stands before it.
    means : str
    default : float or None
        mm, or the number; None where the kind works it out.
    least, most : float
    bare : bool
        Whether a length alone is this one; of one option of a kind at most.
    plain : bool
        Whether it is a number, and not a length.
    """

    name: str
    means: str
    default: float | None
    least: float
    most: float
    bare: bool = False
    plain: bool = False


@dataclass(frozen=True, kw_only=True)
class TextOption:
    """Words to be stitched, in quotes: `"seed swap"`.

    Parameters
    ----------
    name, means : str
    longest : int
        Most letters.
    """

    name: str
    means: str
    longest: int = 40


KindOption = WordOption | MeasureOption | TextOption


@dataclass(frozen=True, kw_only=True)
class Embellishment:
    """What is asked for on a panel, read and within its limits.

    Parameters
    ----------
    panel : str
        The panel, as a person called it.
    kind : str
    given : tuple of (name, value)
        Options that were said: a word, a text, mm or a number.
    text : str
        As it was typed, in its shortest form: `quilting:diagonal,20mm`.
    where : str
        Where it was said, for messages: `--on lower outer`.
    motif : MotifStitches or None
        What the stitch file holds that it names, once it is read.
    """

    panel: str
    kind: str
    given: tuple[tuple[str, OptionValue], ...] = ()
    text: str = ""
    where: str = ""
    motif: "MotifStitches | None" = None

    @property
    def told(self) -> str:
        """The text with a stitch file by its name alone: what is made names no folder."""
        if self.motif is None:
            return self.text
        return self.text.replace(f'"{dict(self.given)["file"]}"', f'"{self.motif.name}"')

    def word(self, option: WordOption) -> str:
        """The word that was said, or the option's first.

        Examples
        --------
        >>> way = WordOption(name="way", words={"upright": "up and down", "level": "across"})
        >>> Embellishment(panel="top", kind="quilting").word(way)
        'upright'
        >>> Embellishment(panel="top", kind="quilting", given=(("way", "level"),)).word(way)
        'level'
        """
        return str(dict(self.given).get(option.name, next(iter(option.words))))

    def measure(self, option: MeasureOption) -> float | None:
        """The length in mm, or the number, that was said; else the option's own.

        Examples
        --------
        >>> apart = MeasureOption(name="spacing", means="", default=15.0, least=5.0, most=100.0)
        >>> Embellishment(panel="top", kind="quilting").measure(apart)
        15.0
        """
        said = dict(self.given).get(option.name, option.default)
        return None if said is None else float(said)

    def words_of(self, option: TextOption) -> str:
        """The words to be stitched; empty where none were said."""
        return str(dict(self.given).get(option.name, ""))
