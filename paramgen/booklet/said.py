"""What a booklet says, however it is set."""

from paramgen.booklet.booklet_length import BookletLength
from paramgen.booklet.cautions import Caution
from paramgen.booklet.lettered_pictures import LetteredPicture, StyleSample
from paramgen.supplies.cut_list import CutRow
from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True)
class Need:
    """Something to have ready.

    Parameters
    ----------
    what : str
    amount : str
    note : str
        May be empty.
    first : str
        When it is first needed; empty where that is said otherwise.
    """

    what: str
    amount: str
    note: str = ""
    first: str = ""


@dataclass(frozen=True)
class PieceFolding:
    """How one piece is folded.

    Parameters
    ----------
    title : str
    when : str
        In which step, and what comes before it; may be empty.
    moves : tuple of str
        In order.
    picture : LetteredPicture
        The piece before each move and after the last.
    """

    title: str
    when: str
    moves: tuple[str, ...]
    picture: LetteredPicture


@dataclass(frozen=True, kw_only=True)
class StepBlock:
    """One step.

    Parameters
    ----------
    number : int
        From 1, in the whole order of work.
    stop : int or None
        The number the machine shows; None for what is done by hand.
    colour : str or None
        `#rrggbb` of the stop.
    colour_name : str
        The same in words; empty if there is none.
    title : str
    about : str
        Which side is seen, and for a stop its stitches, layers and needle.
    say : str
        What to do.
    notes : tuple of str
        What to put in or to use: a needle, a pressing cloth.
    look : tuple of str
        What to look for.
    cautions : tuple of Caution
    picture, small : LetteredPicture
        To stand beside its words, and for the strip of all steps.
    """

    number: int
    stop: int | None
    colour: str | None
    colour_name: str
    title: str
    about: str
    say: str
    notes: tuple[str, ...]
    look: tuple[str, ...]
    cautions: tuple[Caution, ...]
    picture: LetteredPicture
    small: LetteredPicture

    @property
    def by(self) -> str:
        """By hand, or at which stop of the machine."""
        return "by hand" if self.stop is None else f"stop {self.stop} of the machine"

    @property
    def number_words(self) -> str:
        """Its number, and that of the machine if it has one."""
        return f"Step {self.number}, {self.by}"


@dataclass(frozen=True)
class JoinedSteps:
    """Steps that stand in one block, with one picture of them.

    Parameters
    ----------
    blocks : tuple of StepBlock
        In order; one alone has its own picture.
    picture : LetteredPicture
    about : str
        Which side is seen in the picture, and for a stop its stitches, layers and needle.
    """

    blocks: tuple[StepBlock, ...]
    picture: LetteredPicture
    about: str

    def cautions(self, block: StepBlock) -> tuple[Caution, ...]:
        """Those of one of its steps that none before it has said."""
        before = self.blocks[: self.blocks.index(block)]
        said = {one for other in before for one in other.cautions}
        return tuple(one for one in block.cautions if one not in said)

    @property
    def look(self) -> tuple[str, ...]:
        """What to look for, each once."""
        return tuple(dict.fromkeys(one for block in self.blocks for one in block.look))


@dataclass(frozen=True)
class Trouble:
    """Something that may go wrong.

    Parameters
    ----------
    what : str
    see : str
        How to see it.
    do : str
        What helps.
    """

    what: str
    see: str
    do: str


@dataclass(frozen=True)
class Notice:
    """What was found about the project as it is asked for.

    Parameters
    ----------
    what : str
    where : str
        At which step; may be empty.
    do : str
        What mends it; may be empty.
    """

    what: str
    where: str
    do: str

    @property
    def more(self) -> str:
        """Where it is and what mends it, in one run of words; may be empty."""
        return " ".join(one for one in (self.where, self.do) if one)


@dataclass(frozen=True, kw_only=True)
class Booklet:
    """All that a booklet says.

    Parameters
    ----------
    title, summary : str
    facts : tuple of (str, str)
        For the cover: finished size, hoop and the like.
    finished : tuple of LetteredPicture
        The one for the cover first, sections through the layers last.
    fabrics, besides, needles : tuple of Need
        What is needed before the hooping; all else, in the order in which it is first needed,
        but for the needles, which stand by their stops.
    estimate, thread_note : str
        What the amounts of fabric and of thread rest on.
    cut : tuple of CutRow
    folding : tuple of PieceFolding
    samples : tuple of StyleSample
        What the pictures are drawn with.
    reading : tuple of str
        How to read the pictures.
    whole : LetteredPicture
        Every stitched line.
    steps, finishing : tuple of JoinedSteps
        In the hoop, and after the last stop.
    disappoints, worth_knowing : tuple of Notice
        What was found: what is said before all else, and what is said with the troubles.
    troubles : tuple of Trouble
    cautions : tuple of Caution
        All that apply to this project.
    cut_cautions, fold_cautions : tuple of Caution
        Those for cutting and for folding.
    record : tuple of str
        What to write down of a test-sew.
    form : BookletLength
        How closely it is set.
    """

    title: str
    summary: str
    facts: tuple[tuple[str, str], ...]
    finished: tuple[LetteredPicture, ...]
    fabrics: tuple[Need, ...]
    besides: tuple[Need, ...]
    needles: tuple[Need, ...]
    estimate: str
    thread_note: str
    cut: tuple[CutRow, ...]
    folding: tuple[PieceFolding, ...]
    samples: tuple[StyleSample, ...]
    reading: tuple[str, ...]
    whole: LetteredPicture
    steps: tuple[JoinedSteps, ...]
    finishing: tuple[JoinedSteps, ...]
    disappoints: tuple[Notice, ...]
    worth_knowing: tuple[Notice, ...]
    troubles: tuple[Trouble, ...]
    cautions: tuple[Caution, ...]
    cut_cautions: tuple[Caution, ...]
    fold_cautions: tuple[Caution, ...]
    record: tuple[str, ...]
    form: BookletLength = BookletLength.SHORT

    @property
    def together(self) -> tuple[JoinedSteps, ...]:
        """All the steps in their blocks, in order."""
        return (*self.steps, *self.finishing)

    @property
    def blocks(self) -> tuple[StepBlock, ...]:
        """Every step, in order."""
        return tuple(block for one in self.together for block in one.blocks)
