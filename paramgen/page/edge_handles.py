"""Edges of the drawing that can be dragged: which finished size each of them follows."""

from collections.abc import Iterator

from paramgen.drawings.primitives.drawn_paths import box_of
from paramgen.layout.lay_out import lay_out
from paramgen.making import Attempt, resizing
from paramgen.vocabulary.box import Box
from paramgen.vocabulary.findings import CannotMakeError, InputError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.project import Project

#: By how much each size is changed to see what follows it, mm.
_TRIED = 2.0


@dataclass(frozen=True, kw_only=True)
class EdgeHandle:
    """An edge of the finished outline as it lies in the hoop.

    Parameters
    ----------
    size : str
        The size that follows it.
    across : bool
        Whether it is the right edge, dragged to the right and to the left; else the lower.
    at : (x, y)
        Where it is taken hold of, mm.
    middle : float
        Of the outline, along the way that it is dragged, mm.
    value : float
        Of the size now, mm.
    times : float
        How much the outline grows, both sides together, for each mm of the size.
    least, most : float
        Of the size, mm.
    """

    size: str
    across: bool
    at: tuple[float, float]
    middle: float
    value: float
    times: float
    least: float
    most: float


def edge_handles(attempt: Attempt) -> Iterator[EdgeHandle]:
    """The edges that can be dragged; none where there is no outline, or none follows a size."""
    sized, project = attempt.sized, attempt.project
    if sized is None or project is None or project.finish.finished is None:
        return
    now = _outline(project)
    resize = resizing(attempt.order, sized)
    taken = set()
    for figure in sized.sizes:
        entry = sized.recipe.file.sizes[figure.name]
        most = entry.most or figure.value
        by = _TRIED if figure.value + _TRIED <= most else -_TRIED
        try:
            other = lay_out(resize({figure.name: figure.value + by}), turned=project.turned)
        except (CannotMakeError, InputError):
            continue
        if other.finish.finished is None:
            continue
        grown = _outline(other)
        for across, by_edge in (
            (True, (grown.width - now.width) / by),
            (False, (grown.height - now.height) / by),
        ):
            if by_edge > 0.1 and across not in taken:
                taken.add(across)
                x, y = now.centre
                yield EdgeHandle(
                    size=figure.name,
                    across=across,
                    at=(now.right, y) if across else (x, now.bottom),
                    middle=x if across else y,
                    value=figure.value,
                    times=by_edge,
                    least=entry.least or 0.0,
                    most=most,
                )


def _outline(project: Project) -> Box:
    """Box around the finished outline."""
    assert project.finish.finished is not None
    return box_of([project.finish.finished])
