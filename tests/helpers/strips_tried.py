"""The least length of strips, by trying every way to share few pieces out over strips."""

from collections.abc import Sequence

#: A strip is its columns, each its width and its height.
_Strips = list[list[tuple[int, int]]]


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


def least_length_in_columns(pieces: Sequence[tuple[int, int, bool]], width: int) -> int:
    """The same where pieces as wide may lie behind each other, no higher than any may lie."""
    ways = [{(a, b), (b, a)} if turns else {(a, b)} for a, b, turns in pieces]
    highest = max(high for lies in ways for wide, high in lies if wide <= width)
    best = [sum(max(a, b) for a, b, _ in pieces) + 1]

    def deeper(at: int, strips: _Strips) -> None:
        length = sum(max(high for _, high in strip) for strip in strips)
        if length >= best[0]:
            return
        if at == len(pieces):
            best[0] = length
            return
        for wide, high in ways[at]:
            if wide > width:
                continue
            for place, strip in enumerate(strips):
                before, after = strips[:place], strips[place + 1 :]
                for one, (across, along) in enumerate(strip):
                    if across == wide and along + high <= highest:
                        new = [*strip[:one], (across, along + high), *strip[one + 1 :]]
                        deeper(at + 1, [*before, new, *after])
                if sum(across for across, _ in strip) + wide <= width:
                    deeper(at + 1, [*before, [*strip, (wide, high)], *after])
            deeper(at + 1, [*strips, [(wide, high)]])

    deeper(0, [])
    return best[0]
