"""What is asked for on panels, taken apart into panels without knowing what there is to ask for."""

from paramgen.embellishment.kind_options import MOST_ASKED

#: How the command line and the page call it.
ON = "--on"
#: What closes the quotes that each of these opens.
QUOTES = {'"': '"', "\u201c": "\u201d", "\u201d": "\u201d", "'": "'", "\u2018": "\u2019"}


def panels_typed(typed: str) -> tuple[tuple[str, str], ...]:
    """The panels that something is asked for on, and where each was said, be the rest wrong.

    Examples
    --------
    >>> panels_typed("lower outer=nothing; top = quilting")
    (('lower outer', '--on lower outer'), ('top', '--on top'))
    """
    found = [
        word.partition("=")[0].strip() for word in parted(typed, ";")[:MOST_ASKED] if "=" in word
    ]
    return tuple((panel, where_asked(panel)) for panel in dict.fromkeys(found) if panel)


def parted(typed: str, mark: str) -> list[str]:
    """What stands between two marks that are in no quotes; what is blank is left out.

    Examples
    --------
    >>> parted('words:"plum; fig", 8mm; quilting', ";")
    ['words:"plum; fig", 8mm', 'quilting']
    >>> parted("'it is', 5mm", ","), parted('"no end, 5mm', ",")
    (["'it is'", '5mm'], ['"no end, 5mm'])
    """
    found, closing, begins = [""], "", True
    for letter in typed:
        if closing:
            closing = "" if letter == closing else closing
        elif begins and letter in QUOTES:
            closing = QUOTES[letter]
        elif letter == mark:
            found.append("")
            begins = True
            continue
        found[-1] += letter
        begins = letter in " :,;="
    return [word.strip() for word in found if word.strip()]


def where_asked(panel: str) -> str:
    """Where it stands that something is asked for on a panel, for messages."""
    return f"{ON} {' '.join(panel.split())[:40]}"
