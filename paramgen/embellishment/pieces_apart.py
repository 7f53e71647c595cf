"""Names of their own for the pieces of what is asked for more than once."""

from collections.abc import Iterable
from dataclasses import replace

from paramgen.embellishment.embellishment_kind import Worked
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.project import Layer, Piece, Step


def pieces_apart(worked: Worked, known: Iterable[str]) -> Worked:
    """The same with each of its pieces called by a name that no other has.

    Parameters
    ----------
    worked : Worked
    known : iterable of str
        Names of the pieces that there are.
    """
    taken = set(known)
    for piece in worked.pieces:
        if piece.name in taken:
            number = next(n for n in range(2, len(taken) + 3) if f"{piece.name}-{n}" not in taken)
            worked = _Renaming(piece, number).all_of(worked)
            taken.add(f"{piece.name}-{number}")
    return worked


@dataclass(frozen=True)
class _Renaming:
    """A piece, and the number that it gets."""

    piece: Piece
    number: int

    @property
    def name(self) -> str:
        return f"{self.piece.name}-{self.number}"

    @property
    def title(self) -> str:
        return f"{self.piece.title} {self.number}"

    def all_of(self, worked: Worked) -> Worked:
        return replace(
            worked,
            steps=tuple(self._step(one) for one in worked.steps),
            before=tuple(self._step(one) for one in worked.before),
            pieces=tuple(
                replace(one, name=self.name, title=self.title) if one is self.piece else one
                for one in worked.pieces
            ),
        )

    def _step(self, step: Step) -> Step:
        return replace(
            step,
            layers=tuple(self._layer(one) for one in step.layers),
            taped=tuple(map(self._name, step.taped)),
            pieces=tuple(map(self._name, step.pieces)),
            title=step.title.replace(self.piece.title, self.title),
            say=step.say.replace(self.piece.title, self.title),
        )

    def _layer(self, layer: Layer) -> Layer:
        if layer.piece != self.piece.name:
            return layer
        return replace(layer, piece=self.name, title=self.title)

    def _name(self, name: str) -> str:
        return self.name if name == self.piece.name else name
