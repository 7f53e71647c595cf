"""What a person calls a project, and a thing: words that can stand on every picture and paper."""

import unicodedata

from paramgen.papers.typeset import cannot_be_set
from paramgen.vocabulary.findings import Fault, InputError

#: Most letters of a title or of a thing's name: it heads every picture and paper.
LONGEST_TITLE = 60
#: Most letters of one of its words: more do not go into a line of the booklet's first page.
LONGEST_WORD = 24
#: More accents over one letter than any language writes run into the line above.
_MOST_ACCENTS = 2


def title_asked(typed: str, where: str = "--title") -> str:
    """Words that can stand on every picture and paper, on one line; empty if nothing was typed.

    Raises
    ------
    InputError
        If they are blank or too long, hold what cannot be shown or would change what stands
        beside them, or a letter that the papers cannot be set with.
    """
    if not typed:
        return ""
    words = " ".join(unicodedata.normalize("NFC", typed[: 20 * LONGEST_TITLE]).split(" "))
    stray = next((letter for letter in words if _stray(letter)), "")
    if stray in ("\n", "\r", "\t", "\v", "\f", "\x85", "\u2028", "\u2029"):
        raise _refused(where, "is more than one line", "Write it on one line, without tabs.")
    if stray:
        text = f"holds a character that cannot be shown, U+{ord(stray):04X}"
        raise _refused(where, text, "Leave it out.")
    words = " ".join(words.split())
    if not words:
        raise _refused(where, "is blank", "Write a title, or leave it out.")
    if len(words) > LONGEST_TITLE:
        text = f"has {len(words)} letters; {LONGEST_TITLE} at most can be set"
        raise _refused(where, text, f"Shorten it: `{words[: LONGEST_TITLE // 2].rstrip()}`, say.")
    longest = max(words.split(" "), key=len)
    if len(longest) > LONGEST_WORD:
        text = f"has a word of {len(longest)} letters; {LONGEST_WORD} at most go into a line"
        raise _refused(where, text, "Part it with a space.")
    if _piled(words):
        raise _refused(where, "piles up accents on one letter", "Write it without them.")
    if unset := cannot_be_set(words):
        several = "letters" if len(unset) > 1 else "a letter"
        text = f"holds {several} that the papers cannot be set with: {', '.join(unset)}"
        raise _refused(where, text, "Write it in other letters.")
    return words


def _refused(where: str, text: str, hint: str) -> InputError:
    return InputError([Fault(text, where, hint=hint)])


def _stray(letter: str) -> bool:
    """Whether it is a control, a mark of direction, a line's end, or nothing at all."""
    return unicodedata.category(letter) in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")


def _piled(words: str) -> bool:
    piled = 0
    for letter in words:
        piled = piled + 1 if unicodedata.combining(letter) else 0
        if piled > _MOST_ACCENTS:
            return True
    return False
