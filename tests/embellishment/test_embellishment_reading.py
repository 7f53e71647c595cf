"""Reading what is asked for on a panel, and what is wrong with it, at its place."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from paramgen.embellishment.kind_options import (
    MOST_ASKED,
    MeasureOption,
    TextOption,
    WordOption,
)
from paramgen.embellishment.listed_kinds import KINDS
from paramgen.embellishment.panels_asked import panels_typed
from paramgen.embellishment.read_embellishment import (
    LONGEST_ASKED,
    embellishments_asked,
    read_embellishment,
)
from paramgen.vocabulary.findings import InputError

WRITE = 'Write PANEL=KIND:WHAT, as in "lower outer=quilting:diagonal,20mm".'


def refusal(typed: str) -> list[str]:
    with pytest.raises(InputError) as told:
        embellishments_asked(typed)
    return [str(fault) for fault in told.value.faults]


def test_a_word_and_a_length_in_either_order() -> None:
    one, other = embellishments_asked("top=quilting:diagonal,20mm; top = Quilting : 2 cm, Diagonal")
    assert dict(one.given) == dict(other.given) == {"direction": "diagonal", "spacing": 20.0}


def test_inches_are_read() -> None:
    (one,) = embellishments_asked("top=quilting:3/4 in")
    assert dict(one.given) == {"spacing": pytest.approx(0.75 * 25.4)}


def test_a_length_with_a_name_is_that_one() -> None:
    (one,) = embellishments_asked("top=edge:scallop,10mm,depth 4mm,stitch=1.8")
    assert dict(one.given) == {"pattern": "scallop", "repeat": 10.0, "depth": 4.0, "stitch": 1.8}


def test_nothing_typed_is_nothing_asked() -> None:
    assert embellishments_asked("") == embellishments_asked(" ; ; ") == ()


def test_every_fault_is_told_at_its_panel() -> None:
    assert refusal("top=quiltng; back=quilting:diagnal,2mm,30mm; lining; x=edge:'no") == [
        "--on top: `quiltng` is no kind of embellishment. Did you mean `quilting`?",
        "--on back: quilting knows no `diagnal`. Did you mean `diagonal`?",
        "--on back: `2mm` is outside 4 mm to 150 mm (from row to row)",
        f"--on: I do not know what `lining` is for. {WRITE}",
        "--on x: `'no` begins with a quote that nothing closes",
    ]


def test_what_is_said_twice_is_a_fault() -> None:
    (fault,) = refusal("top=quilting:diagonal,level")
    assert fault == "--on top: `level` is one direction too many. Say it once."


def test_words_to_stitch_are_no_quilting() -> None:
    (fault,) = refusal('top=quilting:"plum; fig"')
    assert "`plum; fig` in quotes is for words to be stitched" in fault


@pytest.mark.parametrize("length", ["-5mm", "0", "1e400mm", "5 ells", "4 1/2", "1,200mm"])
def test_what_is_no_length_is_a_fault_at_its_place(length: str) -> None:
    assert all(one.startswith("--on top") for one in refusal(f"top=quilting:stitch {length}"))


def test_too_many_and_too_long_are_refused() -> None:
    (many,) = refusal("; ".join(["top=quilting"] * (MOST_ASKED + 1)))
    assert many == f"--on: {MOST_ASKED + 1} are asked for. Ask for {MOST_ASKED} at most."
    (long,) = refusal("top=quilting:" + "a" * LONGEST_ASKED)
    assert "are enough" in long


def test_panels_are_known_whatever_else_is_wrong() -> None:
    found = panels_typed("lower  outer=quiltng; top=; =x; pocket 1=quilting")
    assert [panel for panel, _ in found] == ["lower  outer", "top", "pocket 1"]


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused(text: str) -> None:
    with suppress(InputError):
        embellishments_asked(text)


@st.composite
def asked(draw: st.DrawFn) -> str:
    kind = draw(st.sampled_from(list(KINDS.values())))
    bits = []
    for option in kind.options:
        if draw(st.booleans()):
            match option:
                case WordOption():
                    bits.append(draw(st.sampled_from([*option.words, *option.also])))
                case MeasureOption():
                    value = draw(st.floats(option.least, option.most))
                    unit = "" if option.plain else "mm"
                    bits.append(f"{'' if option.bare else option.name + ' '}{value:.3f}{unit}")
                case TextOption():
                    bits.append('"fig"')
    return f"{kind.name}:{','.join(draw(st.permutations(bits)))}"


@given(asked())
def test_its_shortest_form_says_the_same(text: str) -> None:
    one = read_embellishment(text, "top", "")
    again = read_embellishment(one.text, "top", "")
    assert (again.kind, again.text) == (one.kind, one.text)
    assert again.given == tuple(
        (name, pytest.approx(value, abs=1e-3) if isinstance(value, float) else value)
        for name, value in one.given
    )


@pytest.mark.parametrize("kind", KINDS)
def test_options_of_a_kind_are_told_apart(kind: str) -> None:
    options = KINDS[kind].options
    words = [w for one in options if isinstance(one, WordOption) for w in (*one.words, *one.also)]
    assert len(words) == len(set(words))
    names = [one.name for one in options]
    assert len(names) == len(set(names))
    measures = [one for one in options if isinstance(one, MeasureOption)]
    assert sum(one.bare for one in measures) <= 1
    assert not {one.name for one in measures} & set(words)
    # A word that is other than one of its own would never be understood.
    for one in options:
        if isinstance(one, WordOption):
            assert set(one.also.values()) <= set(one.words)
