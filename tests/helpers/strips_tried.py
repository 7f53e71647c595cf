"""The least length of strips, by trying every way to share few pieces out over strips."""

from collections.abc import Sequence


def least_length(pieces: Sequence[tuple[int, int, bool]], width: int) -> int:
    """Least length of (across, along, may turn) in strips across a width, tried one by one."""
    best = [sum(max(a, b) for a, b, _ in pieces) + 1]

    def deeper(at: int, strips: list[tuple[int, int]]) -> None:
        length = sum(high for _, high in strips)
        if length >= best[0]:
            return
        if at == len(pieces):
            best[0] = length
            return
        across, along, turns = pieces[at]
        for wide, high in {(across, along), (along, across)} if turns else {(across, along)}:
            if wide > width:
                continue
            for place, (taken, top) in enumerate(strips):
                if taken + wide <= width:
                    new = (taken + wide, max(top, high))
                    deeper(at + 1, [*strips[:place], new, *strips[place + 1 :]])
            deeper(at + 1, [*strips, (wide, high)])

    deeper(0, [])
    return best[0]
