"""What is no TOML, said so that a person can mend it: most often a quote is missing."""

import re
import tomllib
from collections.abc import Iterator
from itertools import islice

from paramgen.vocabulary.findings import Fault

#: So many lines are mended in one go, and only in a text no longer than this, so that it is soon
#: done.
MOST_MENDED = 20
MOST_CHARACTERS = 60_000
#: No line longer than this is mended, and each in no more ways than this.
LONGEST_LINE, MOST_WAYS = 1_000, 100
#: A line longer than this is not written out.
LONGEST_SHOWN = 110

_CURLY = str.maketrans(dict.fromkeys("\u201c\u201d\u201e\u201f\u2033", '"'))
_KEY = re.compile(r"(\s*[\w-]+(?:\.[\w-]+)*\s*=\s*)(.*)\Z")
_COLON = re.compile(r"(\s*[\w-]+)\s*:\s*(\S.*)\Z")
#: A number with the mark of inches behind it, as on a ruler.
_INCHES = re.compile(r'"?([\d./ \u00bc-\u00be-]*[\d\u00bc-\u00be])\s*"+\Z')
_TOKEN = re.compile(r""""[^"]*"|'[^']*'|[\[\]{},=]|[^\[\]{},="']+""")
_PLAIN = re.compile(r"\s*(?:true|false|[-+]?\d[\d_]*(?:\.\d+)?)?\s*\Z")

#: Tables whose names formulas use: these have underscores, all others hyphens.
_IN_FORMULAS = ("sizes", "counts", "choices", "lengths", "values")

_QUOTE = "a quote is missing"
_QUOTES = "texts, names, formulas and lengths with a unit stand in quotes"


def torn(text: str, source: str) -> list[Fault]:
    """Every line of a text that keeps it from being read, with how to write it.

    Parameters
    ----------
    text : str
        No TOML.
    source : str
        What the file is called.

    Returns
    -------
    list of Fault
        Up to the first that cannot be mended by what is known here.
    """
    lines = text.splitlines()
    faults: list[Fault] = []
    mended_at = 0
    while (problem := _problem("\n".join(lines))) is not None:
        what, at = problem
        new = None
        if at is not None and len(faults) < MOST_MENDED and len(text) <= MOST_CHARACTERS:
            new = _mended(lines, at)
            if new is None and "'" in what:  # seen only where the line had ended
                new = _mended(lines, at - 1)
            if new is None and what.startswith("Unclosed"):
                new = _unclosed(lines, at)
        if new is None or new[0] <= mended_at:
            return [*faults, _once(lines, source, at) or _unmended(what, source, at)]
        mended_at, line, why = new
        lines[mended_at - 1] = line
        shown = line.strip()
        hint = f"Write `{shown}`." if len(shown) <= LONGEST_SHOWN else ""
        faults.append(Fault(why, source, mended_at, hint))
    return faults


def _once(lines: list[str], source: str, at: int | None) -> Fault | None:
    """Say of a table in single brackets that others of its name stand in double ones."""
    if at is None or not 0 < at <= len(lines):
        return None
    several = _SEVERAL.fullmatch(lines[at - 1].strip())
    one = re.compile(rf"\s*\[\s*{re.escape(several[1])}\s*\]\s*(?:#.*)?") if several else None
    first = next((n for n, line in enumerate(lines, 1) if one and one.fullmatch(line)), None)
    if several is None or first is None:
        return None
    text = "there are several of this table, and here it stands in single brackets"
    return Fault(text, source, first, f"Write `[[{several[1]}]]`.")


_SEVERAL = re.compile(r"\[\[\s*([\w.-]+)\s*\]\](?:\s*#.*)?")


def _unmended(what: str, source: str, at: int | None) -> Fault:
    """Say what is wrong where no other way of writing it is known."""
    if what == "Cannot overwrite a value":
        return Fault("a key stands in its table twice", source, at, "Leave one of the two out.")
    twice = re.match(r"Cannot declare \((.*?),?\) twice", what)
    if twice:
        name = ".".join(re.findall(r"'([^']*)'", twice[1]))
        hint = "Give one of them another name, or put them together."
        return Fault(f"the table `{name}` is there already", source, at, hint)
    return Fault(f"this is not TOML: {what}", source, at)


def _problem(text: str) -> tuple[str, int | None] | None:
    """What keeps a text from being read, and in which line; None if nothing does."""
    try:
        tomllib.loads(text)
    except RecursionError:
        return "brackets are nested too deeply", None
    except ValueError as problem:  # a number of thousands of digits too
        what, _, at = str(problem).partition(" (at ")
        line = re.match(r"line (\d+)", at)
        if line is None and what == _NO_OTHER_QUOTE and "\n" in text:
            return what, _begun_with_it(text)
        return what, int(line[1]) if line else text.count("\n") + 1 if at else None
    return None


#: What is said at the end of a text that has no single quote after the one that a text begins with.
_NO_OTHER_QUOTE = 'Expected "\'"'


def _begun_with_it(text: str) -> int:
    """The line with the last single quote: it begins a text that nothing ends."""
    return text[: text.rindex("'")].count("\n") + 1


def _reads(line: str) -> bool:
    """Whether a line can be read: alone, or as a part of a list."""
    return any(_problem(text) is None for text in (line, f"x = [{line.strip()}]"))


def _mended(lines: list[str], at: int) -> tuple[int, str, str] | None:
    """The line as it was meant, and what is wrong with it."""
    if not 0 < at <= len(lines) or len(lines[at - 1]) > LONGEST_LINE or _reads(lines[at - 1]):
        return None
    for line, why in islice(_candidates(lines[at - 1]), MOST_WAYS):
        if line != lines[at - 1] and _reads(line):
            return at, line, why
    return None


def _unclosed(lines: list[str], at: int) -> tuple[int, str, str] | None:
    """The line before, closed, where a list or table was still open in it."""
    before = next((n for n in range(min(at, len(lines) + 1) - 1, 0, -1) if lines[n - 1].strip()), 0)
    for number in (before, at):
        if not 0 < number <= len(lines) or len(lines[number - 1]) > LONGEST_LINE:
            continue
        for closing in ("]", " }", " }]"):
            line = lines[number - 1].rstrip() + closing
            if _KEY.match(line) and _problem(line) is None:
                return number, line, "a bracket is not closed"
    return None


def _candidates(line: str) -> Iterator[tuple[str, str]]:
    """Ways of writing a line that someone may have meant, the likeliest first."""
    straight = line.translate(_CURLY)
    if straight != line:
        yield straight, "curly quotes: only straight ones count"
    if '"' in straight and straight.count("'") % 2:
        yield from _one_kind_of_quote(straight)
    with_commas = _with_commas(straight)
    if with_commas != straight:
        yield with_commas, "a comma is missing"
    if line.strip().startswith("["):
        bare = line.strip().strip("[]").strip()
        if " " in bare and re.fullmatch(r"[\w.\- ]+", bare):
            dash = "_" if bare.partition(".")[0] in _IN_FORMULAS else "-"
            name = re.sub(r"\s+", dash, re.sub(r"\s*\.\s*", ".", bare))
            opens, closes = ("[[", "]]") if "[[" in line else ("[", "]")
            yield f"{opens}{name}{closes}", "a name has no spaces"
        if re.fullmatch(r"[\w.\- ]+", bare):
            yield (
                f"[[{bare}]]" if "[[" in line or "]]" in line else f"[{bare}]",
                ("brackets are missing"),
            )
    if "=" not in line and (colon := _COLON.match(line)):
        yield f"{colon[1]} = {colon[2]}", "`=` is wanted between a key and its value"
        for whole, _ in _of_value(f"{colon[1]} = ", colon[2]):
            yield whole, f"`=` is wanted between a key and its value, and {_QUOTES}"
    keyed = _KEY.match(straight)
    if keyed:
        plain, mark, comment = keyed[2].partition(" #")
        if mark:
            yield from (
                (f"{new} #{comment}", why) for new, why in _of_value(keyed[1], plain.strip())
            )
        yield from _of_value(keyed[1], keyed[2].strip())
    yield from _inside(straight)


def _one_kind_of_quote(line: str) -> Iterator[tuple[str, str]]:
    """A text that begins with one kind of quote and ends with the other."""
    for found in re.finditer("'", line):
        at = found.start()
        yield f'{line[:at]}"{line[at + 1 :]}', "a text ends with the quote that it begins with"


def _with_commas(line: str) -> str:
    """A line with a comma between every two entries of a table or list that have none."""
    tokens = [one for one in _TOKEN.findall(line) if one]
    if "".join(tokens) != line:
        return line
    depth, found, before = 0, "", ""
    for token, follows in zip(tokens, [*tokens[1:], ""], strict=True):
        depth += (token in "[{") - (token in "]}")
        ended = before[-1:] in ('"', "'", "]", "}")
        value_and_key = _VALUE_AND_KEY.fullmatch(token)
        if depth > 0 and follows == "=" and before == "=" and value_and_key:
            token = f"{value_and_key[1]}, {value_and_key[2]}"  # noqa: PLW2901
        elif depth > 0 and ended and (token[0] in "\"'{[" or (follows == "=" and token.strip())):
            found = f"{found.rstrip()},"
            token = f" {token.lstrip()}"  # noqa: PLW2901
        found += token
        before = token.strip() or before
    return found


_VALUE_AND_KEY = re.compile(r"(\s*(?:true|false|[-+]?\d[\d_.]*))\s+([\w-]+\s*)")


def _of_value(key: str, value: str) -> Iterator[tuple[str, str]]:
    """Ways of writing one value."""
    if not value:
        return
    if value.lower() in ("true", "false"):
        yield key + value.lower(), "true and false are written small"
    if inches := _INCHES.fullmatch(value):
        why = (
            f'a quote is missing, or `in`: `"{inches[1]}"` is millimetres, `"{inches[1]}in"` inches'
        )
        yield f'{key}"{inches[1]}in"', why
    opens, closes = value.startswith('"'), value.endswith('"') and len(value) > 1
    if opens and not closes:
        yield f'{key}{value}"', _QUOTE
    elif closes and not opens:
        yield f'{key}"{value}', _QUOTE
    elif opens and '"' in value[1:-1]:
        inner = value[1:-1].replace('"', "'")
        yield f'{key}"{inner}"', "a quote within a text ends it: take single ones there"
    elif value[0] not in "[{'=" and '"' not in value:
        yield f'{key}"{value}"', f"quotes are missing: {_QUOTES}"


def _inside(line: str) -> Iterator[tuple[str, str]]:
    """Ways of writing what stands in brackets: one quote more, or quotes round what is bare."""
    places = (found.end() for found in re.finditer(r"(?=\s*[,}\]])(?<!\s)|(?<=[=\[,{])\s*", line))
    quoted = [f'{line[:at]}"{line[at:]}' for at in places]
    yield from ((one, _QUOTE) for one in quoted)
    for one in (line, *quoted):
        yield _all_quoted(one), f"quotes are missing: {_QUOTES}"


def _all_quoted(line: str) -> str:
    """A line with quotes round every value that has none."""
    tokens = _TOKEN.findall(line)
    if "".join(tokens) != line:
        return line
    return "".join(
        token
        if token[0] in "\"'[]{},=" or follows == "=" or _PLAIN.match(token)
        else token.replace(token.strip(), f'"{token.strip()}"', 1)
        for token, follows in zip(tokens, [*tokens[1:], ""], strict=True)
    )
