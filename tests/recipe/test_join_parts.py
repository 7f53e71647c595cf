"""A recipe with its parts is the recipe that one would have written out by hand, and no more."""

import json
import os
import time
from itertools import pairwise
from pathlib import Path

import pytest
from bad_recipe_files import GOOD_PARTS
from hypothesis import given, settings
from hypothesis import strategies as st

from paramgen.budget import MOST_BYTES
from paramgen.installed import templates
from paramgen.recipe.language import MOST_ENTRIES, MOST_USES, RecipeFile, StepTable
from paramgen.recipe.read_part import PartText
from paramgen.recipe.read_recipe import RecipeSource, find_recipe, find_source, read_recipe
from paramgen.vocabulary.findings import InputError

GOOD = GOOD_PARTS["good.toml"]
PARTS = {
    Path(name).stem: PartText(Path(name).stem, name, text)
    for name, text in GOOD_PARTS.items()
    if name != "good.toml"
}

#: The same recipe without parts, written by hand.
FLAT = """
format = 1
title = "Row tag"
summary = "A felt tag with two eyelets."

[sizes.width]
means = "finished width"
default = "60mm"
least = "40mm"
most = "120mm"

[sizes.height]
means = "finished height"
default = "90mm"
least = "60mm"
most = "200mm"

[lengths.upper_rim]
means = "middle of the eyelet at the top inside the edge"
default = "width / 5"
least = "8mm"

[lengths.lower_rim]
means = "middle of the eyelet inside the edge"
default = "width / 5"
least = "8mm"

[lengths.margin]
means = "line inside the edge by"
default = "3mm"
least = "2mm"

[values]
rim = "12"
upper_free = "upper_rim - 2"
lower_free = "lower_rim - 2"

[notions.upper-eyelet]
title = "eyelet at the top"
sort = "ring"
width = "8"
at = [["0", "-height / 2 + rim"]]
through = [["felt"]]
clearance = "4"

[notions.lower-eyelet]
title = "eyelet"
sort = "ring"
width = "8"
at = [["0", "height / 2 - upper_rim"]]
through = [["felt"]]
clearance = "4"

[pieces.felt]
title = "felt"
fabric = "felt"
around = "finished"
past = "10mm"
two_sided = true
frays = false

[outlines.finished]
shape = "rectangle"
width = "width"
height = "height"

[outlines.line]
shape = "inset"
of = "finished"
by = "margin"

[lines.place]
title = "outline, to lay it by"
role = "placement"
along = "finished"

[lines.hold]
title = "line near the edge"
role = "seam"
along = "line"

[[steps]]
title = "Placement"
stitch = ["place"]
say = "Hoop the stabiliser alone and stitch."

[[steps]]
title = "Lay the felt"
lay = [{ piece = "felt", side = "front", up = "right" }]
say = "Lay the felt over the line."

[[steps]]
title = "Tape it"
tape = [{ piece = "felt" }]
say = "Tape it at its edges."

[[steps]]
title = "Stitch the edge"
stitch = ["hold"]
say = "Stitch {margin} inside the edge."

[[steps]]
title = "Take out"
do = "take out of the hoop"
say = "Take the work out of the hoop."

[[steps]]
title = "Fit the eyelet"
do = "fit the snap or ring"
say = "Punch the hole at the top and fit the eyelet, {upper_rim} inside the edge."

[[steps]]
title = "Fit the eyelet"
do = "fit the snap or ring"
say = "Punch the hole and fit the eyelet, {lower_rim} inside the edge."

[[conditions]]
require = "upper_free >= 4"
say = "an eyelet {upper_rim} inside the edge at the top is too near to it"

[[conditions]]
require = "lower_free >= 4"
say = "an eyelet {lower_rim} inside the edge is too near to it"

[finish]
way = "raw edge"
finished = "finished"
seam = "line"
"""


def joined(text: str, **parts: str) -> RecipeFile:
    """A recipe as it is read with these parts, and without a word of where they were."""
    texts = {**PARTS, **{name: PartText(name, f"{name}.toml", one) for name, one in parts.items()}}
    source = RecipeSource("tag", "tag.toml", text, tuple(texts.values()), tuple(texts))
    return source.read().file.model_copy(update={"uses": {}})


def refused(text: str, **parts: str) -> list[str]:
    with pytest.raises(InputError) as refusal:
        joined(text, **parts)
    return [str(fault) for fault in refusal.value.faults]


def test_a_recipe_with_parts_is_the_one_written_by_hand() -> None:
    flat = read_recipe(FLAT, name="tag", source="tag.toml").file
    file = joined(GOOD)
    assert file == flat
    assert list(file.lengths) == list(flat.lengths)
    assert list(file.values) == list(flat.values)
    assert list(file.outlines) == list(flat.outlines)


def test_what_a_part_makes_comes_before_what_is_made_from_it() -> None:
    text = GOOD.replace('rim = "12"', 'rim = "upper_rim * 2"\nfirst = "rim + 1"')
    text = text.replace('height = "height"', 'height = "height + first / 100"')
    text = text.replace('laid = "felt" }', 'laid = "felt" }').replace(
        "[[steps]]", '[outlines.inner]\nshape = "inset"\nof = "line"\nby = "1"\n\n[[steps]]', 1
    )
    text = text.replace("past =", "past =").replace('seam = "line"', 'seam = "inner"')
    file = joined(text)
    assert list(file.values) == ["rim", "first", "upper_free", "lower_free"]
    assert list(file.outlines) == ["finished", "line", "inner"]


def test_a_formula_that_is_given_stays_one_term() -> None:
    part = GOOD_PARTS["parts/eyelet.toml"].replace("across / 5", "2 * across")
    text = GOOD.replace('across = "width", at = "h', 'across = "width - 50", at = "h')
    formula = joined(text, eyelet=part).lengths["lower_rim"].default.formula
    assert formula is not None
    # 2 · (60 − 50), not 2 · 60 − 50
    assert formula.number({"width": 60.0}) == 20.0


def test_lengths_with_a_unit_and_numbers_are_given_too() -> None:
    for given_, is_ in (('"1 in"', 25.4), ("25", 25.0), ("-4", -4.0), ('"3 mm"', 3.0)):
        part = GOOD_PARTS["parts/eyelet.toml"].replace('"across / 5"', '"90 - across"')
        file = joined(GOOD.replace('across = "width"', f"across = {given_}"), eyelet=part)
        assert file.lengths["upper_rim"].default.length == pytest.approx(90 - is_)


def test_a_list_of_names_is_put_where_the_one_stands() -> None:
    part = GOOD_PARTS["parts/edge.toml"].replace(
        'stitch = ["place"]', 'stitch = ["place", "marks"]'
    )
    part = part.replace("[lengths", '[needs.marks]\nkind = "line"\nmeans = "marks"\n\n[lengths', 1)
    lines = "".join(
        f'[lines.{name}]\ntitle = "mark"\nrole = "placement"\npoints = [[["0", "0"], ["9", "9"]]]\n'
        for name in ("one", "two")
    )
    text = GOOD.replace('laid = "felt" }', 'laid = "felt", marks = ["one", "two"] }')
    file = joined(text.replace("[[steps]]", f"{lines}[[steps]]", 1), edge=part)
    first = file.steps[0]
    assert isinstance(first, StepTable)
    assert [str(ref) for ref in first.stitch] == ["place", "one", "two"]
    text = text.replace('marks = ["one", "two"]', 'marks = ["one", "tow"]')
    assert refused(text.replace("[[steps]]", f"{lines}[[steps]]", 1), edge=part) == [
        "tag.toml: uses.edge.with.marks, line 18: no `tow` in lines. Did you mean `two`?"
    ]


#: A part that is given a row of pieces, and how far down each lies.
ROWS = """
format = 1
title = "Rows"
summary = "Bands of felt, one above the other."
gives = ["lower"]

[needs.rows]
kind = "value"
means = "how many bands"

[needs.band]
kind = "piece"
means = "band k"
repeat = { k = "rows" }

[needs.at]
kind = "value"
means = "how far down the middle of band k lies"
repeat = { k = "rows" }

[values]
lower = { repeat = { k = "rows" }, is = "2 * at[k] + rows" }

[[steps]]
name = "lay"
repeat = { k = "rows" }

[[steps.steps]]
title = "Lay band {k}"
lay = [{ piece = "band[k]", side = "front", up = "right", middle = "0", centre = "at[k] - 1" }]
say = "Lay band {k} {lower[k]} down."
"""

BANDS = """
[counts.bands]
means = "bands"
default = 2
least = 1
most = 4

[pieces.strip]
repeat = { n = "bands" }
title = "strip {n}"
fabric = "felt"
width = "20"
height = "9"
frays = false

[[conditions]]
require = "NAME[bands] <= height"
say = "the lowest strip lies too far down"
"""


def test_what_is_repeated_is_given_by_its_bare_name() -> None:
    down = 'rim = "12"\ndown = { repeat = { n = "bands" }, is = "10 * n" }'
    used = '[uses.rows]\npart = "rows"\nwith = { rows = "bands", band = "strip", at = "down" }\n'
    put = '[[steps]]\nuse = "rows"\n\n[[steps]]\ntitle = "Take out"'
    text = GOOD.replace('rim = "12"', down).replace('[[steps]]\ntitle = "Take out"', put)
    file = joined(text + used + BANDS.replace("NAME", "lower"), rows=ROWS)

    by_hand = """[[steps]]
repeat = { k = "bands" }

[[steps.steps]]
title = "Lay band {k}"
lay = [{ piece = "strip[k]", side = "front", up = "right", middle = "0", centre = "down[k] - 1" }]
say = "Lay band {k} {lower[k]} down."

[[steps]]
title = "Take out\""""
    lower = down + '\nlower = { repeat = { k = "bands" }, is = "2 * down[k] + bands" }'
    written = FLAT.replace('rim = "12"', lower).replace('[[steps]]\ntitle = "Take out"', by_hand)
    written += BANDS.replace("NAME", "lower")
    flat = read_recipe(written, name="tag", source="tag.toml").file
    assert file.model_copy(update={"conditions": []}) == flat.model_copy(update={"conditions": []})
    assert len(file.conditions) == len(flat.conditions) == 3


def test_one_of_several_words_stands_for_any_word_of_the_language() -> None:
    need = '[needs.side]\nkind = "one of"\noptions = ["left", "top"]\nmeans = "edge"\n\n[lengths'
    part = GOOD_PARTS["parts/edge.toml"].replace("[lengths", need, 1)
    part = part.replace('{ piece = "laid" }', '{ piece = "laid", at = ["<side>"] }')
    part = part.replace('title = "Tape it"', 'title = "Tape it at the <side>"')
    file = joined(GOOD.replace('laid = "felt" }', 'laid = "felt", side = "top" }'), edge=part)
    taped = next(one for one in file.steps if isinstance(one, StepTable) and one.tape)
    assert (taped.title.text, taped.tape[0].at) == ("Tape it at the top", ["top"])
    assert refused(GOOD.replace('laid = "felt" }', 'laid = "felt", side = "tip" }'), edge=part) == [
        "tag.toml: uses.edge.with.side, line 18: one of left, top is wanted"
    ]


@settings(max_examples=20, deadline=None)
@given(st.lists(st.integers(1, 5), max_size=4))
def test_steps_may_be_named_in_any_bundles(cuts: list[int]) -> None:
    names = [f"s{number}" for number in range(6)]
    steps = "".join(
        f'[[steps]]\nname = "{name}"\ntitle = "{name}"\nstitch = ["hold"]\nsay = "Stitch."\n\n'
        for name in names
    )
    part = GOOD_PARTS["parts/edge.toml"] + "\n" + steps
    ends = sorted({0, *cuts, 6})
    bundles = [names[start:end] for start, end in pairwise(ends)]
    put = "".join(
        f'[[steps]]\nuse = "edge"\nsteps = {json.dumps(bundle)}\n\n' for bundle in bundles
    )
    text = GOOD.replace('[[steps]]\ntitle = "Take out"', f'{put}[[steps]]\ntitle = "Take out"')
    steps_now = joined(text, edge=part).steps
    titles = [step.title.text for step in steps_now if isinstance(step, StepTable)]
    assert titles[4:10] == names


@settings(max_examples=20, deadline=None)
@given(st.from_regex(r"[a-z][a-z0-9-]{0,9}[a-z]", fullmatch=True))
def test_any_prefix_makes_the_same_recipe_by_other_names(prefix: str) -> None:
    text = GOOD.replace('prefix = "lower"', f'prefix = "{prefix}"')
    if prefix == "upper":
        return
    file = joined(text)
    assert f"{prefix}-eyelet" in file.notions
    assert f"{prefix}_rim".replace("-", "_") in file.lengths
    assert len(file.notions) == 2


def test_the_digest_covers_the_parts(tmp_path: Path) -> None:
    (tmp_path / "parts").mkdir()
    for name, text in GOOD_PARTS.items():
        (tmp_path / name.replace("good", "tag")).write_text(text, "utf-8")
    first = find_source(str(tmp_path / "tag.toml"))
    edge = tmp_path / "parts" / "edge.toml"
    edge.write_text(edge.read_text("utf-8").replace("3mm", "4mm"), "utf-8")
    second = find_source(str(tmp_path / "tag.toml"))
    assert first != second
    assert first.text == second.text
    assert first.whole != second.whole
    assert first.read().digest != second.read().digest
    assert second.read().file.lengths["margin"].default.length == 4
    # What was found goes with it: it is read where the files are no more.
    edge.unlink()
    assert second.read().file.lengths["margin"].default.length == 4


def test_a_part_beside_a_recipe_is_taken_before_the_programs(tmp_path: Path) -> None:
    shipped = "hooping"
    assert f"{shipped}.toml" in {one.name for one in (templates() / "parts").iterdir()}
    (tmp_path / "parts").mkdir()
    for name, text in GOOD_PARTS.items():
        (tmp_path / name.replace("good", "tag").replace("edge", shipped)).write_text(text, "utf-8")
    text = GOOD.replace('part = "edge"', f'part = "{shipped}"')
    assert text != GOOD
    (tmp_path / "tag.toml").write_text(text, "utf-8")
    assert "hold" in find_recipe(str(tmp_path / "tag.toml")).file.lines


def test_a_part_that_is_nowhere_is_a_fault(tmp_path: Path) -> None:
    (tmp_path / "tag.toml").write_text(GOOD, "utf-8")
    with pytest.raises(InputError) as refusal:
        find_recipe(str(tmp_path / "tag.toml"))
    assert "there is no part `edge`" in str(refusal.value)


# --- Hostile ones -------------------------------------------------------------------------


@pytest.fixture(autouse=True)
def _here(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)


def own(folder: Path, text: str, part: bytes) -> str:
    """Write a recipe and its part `edge`, and read what is said of them."""
    (folder / "parts").mkdir(exist_ok=True)
    for name, good in GOOD_PARTS.items():
        (folder / name.replace("good", "tag")).write_text(good, "utf-8")
    (folder / "tag.toml").write_text(text, "utf-8")
    (folder / "parts" / "edge.toml").write_bytes(part)
    start = time.process_time()
    with pytest.raises(InputError) as refusal:
        find_recipe("tag.toml")
    assert time.process_time() - start < 5
    return str(refusal.value)


@pytest.mark.parametrize(
    ("part", "said"),
    [
        (b"# " + b"x" * MOST_BYTES, "this is too large to be a part"),
        (b"\xff\xfe", "this is not a text in UTF-8"),
        (b"a = " + b"[" * 100_000, "brackets are nested too deeply"),
        (b"a." * 5_000 + b"b = 1", "a key of more than 20 names"),
        (b'title = "\\u001b[2J"', "a character that cannot be shown"),
        (b"", "the key `format` is missing"),
        (b"[uses.edge]\npart = 'edge'", "A part uses no other"),
    ],
)
def test_a_part_that_is_none_is_refused(part: bytes, said: str, tmp_path: Path) -> None:
    text = own(tmp_path, GOOD, part)
    assert said in text
    assert "parts/edge.toml, as `edge` in tag.toml" in text


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no pipes")
def test_a_pipe_is_no_part(tmp_path: Path) -> None:
    (tmp_path / "parts").mkdir()
    (tmp_path / "tag.toml").write_text(GOOD, "utf-8")
    (tmp_path / "parts" / "eyelet.toml").write_text(GOOD_PARTS["parts/eyelet.toml"], "utf-8")
    os.mkfifo(tmp_path / "parts" / "edge.toml")
    with pytest.raises(InputError, match="this is not a file"):
        find_recipe(str(tmp_path / "tag.toml"))


def test_a_folder_is_no_part(tmp_path: Path) -> None:
    (tmp_path / "parts" / "edge.toml").mkdir(parents=True)
    (tmp_path / "tag.toml").write_text(GOOD, "utf-8")
    with pytest.raises(InputError, match="cannot be read"):
        find_recipe(str(tmp_path / "tag.toml"))


def test_many_uses_are_refused(tmp_path: Path) -> None:
    uses = "".join(f'[uses.u{n}]\npart = "edge"\nprefix = "u{n}"\n' for n in range(MOST_USES + 1))
    text = own(tmp_path, GOOD + uses, GOOD_PARTS["parts/edge.toml"].encode())
    assert f"at most {MOST_USES} wanted" in text


def test_what_grows_by_being_used_is_refused(tmp_path: Path) -> None:
    steps = "".join(
        f'[[steps]]\nname = "s{n}"\ntitle = "s"\nstitch = ["hold"]\nsay = "{"<m>" * 120}"\n'
        for n in range(290)
    )
    named = ", ".join(f'"s{n}"' for n in range(290))
    need = '[needs.m]\nkind = "words"\nmeans = "much"\n\n[lengths'
    part = GOOD_PARTS["parts/edge.toml"].replace("[lengths", need, 1) + steps
    text = GOOD.replace('laid = "felt" }', f'laid = "felt", m = "{"x" * 590}" }}')
    text = text.replace("[finish]", f'[[steps]]\nuse = "edge"\nsteps = [{named}]\n\n[finish]')
    assert f"more than {MOST_BYTES} characters" in own(tmp_path, text, part.encode())


def of_a_part(uses: int, part: str = "edge") -> str:
    """A part used again and again, each time by other names, its steps and all."""
    return "".join(
        f'[uses.u{n}]\npart = "{part}"\nprefix = "u{n}"\n[[steps]]\nuse = "u{n}"\n'
        for n in range(uses)
    )


HEAD = b'format = 1\ntitle = "Edge"\nsummary = "Much of everything."\n'
LINE = b'[lines.l]\ntitle = "l"\nrole = "seam"\nalong = "o0"\nwithin = [%s]\n'
STEP = b'[[steps]]\nname = "s"\ntitle = "s"\nstitch = ["l"]\nsay = "s"\n'


def many_outlines() -> bytes:
    """As many outlines as a table can hold, all of them used."""
    shape = b'shape = "polygon"\npoints = [["0", "0"], ["1", "0"], ["0", "1"]]\n'
    tables = b"".join(b"[outlines.o%d]\n" % n + shape for n in range(MOST_ENTRIES))
    named = b", ".join(b'"o%d"' % n for n in range(MOST_ENTRIES))
    return HEAD + tables + LINE % named + STEP


def many_values() -> bytes:
    """As many values as a table can hold, each made from the one before."""
    chain = b"".join(b'v%d = "v%d + 1"\n' % (n, n - 1) for n in range(1, MOST_ENTRIES))
    last = b'[[conditions]]\nrequire = "v%d > 0"\nsay = "s"\n' % (MOST_ENTRIES - 1)
    return HEAD + b'[values]\nv0 = "1"\n' + chain + last


@pytest.mark.parametrize(
    ("part", "table"), [(many_outlines(), "outlines"), (many_values(), "values")]
)
def test_tables_that_fill_up_by_being_used_are_refused_before_they_are_joined(
    part: bytes, table: str, tmp_path: Path
) -> None:
    text = own(tmp_path, FLAT + of_a_part(MOST_USES), part)
    assert f"with what `u0` puts in there are more than {MOST_ENTRIES} {table}" in text


def test_many_large_parts_are_refused_unread(tmp_path: Path) -> None:
    (tmp_path / "parts").mkdir()
    long = "+".join(["1"] * 149)
    sums = "".join(f'v{n} = "{long}"\n' for n in range(200))
    for n in range(MOST_USES):
        part = f"{HEAD.decode()}[values]\n{sums}# {n}\n"
        (tmp_path / "parts" / f"large-{n}.toml").write_text(part, "utf-8")
    uses = "".join(f'[uses.u{n}]\npart = "large-{n}"\n' for n in range(MOST_USES))
    (tmp_path / "tag.toml").write_text(FLAT + uses, "utf-8")
    start = time.process_time()
    with pytest.raises(InputError, match=f"together, at most {MOST_BYTES} are read"):
        find_recipe("tag.toml")
    assert time.process_time() - start < 2


@pytest.mark.parametrize(
    "gift",
    ["{", "}", "{9**9**9}", "{title of nobody}", "{height : up", "{height : sideways}", "{v[1]}"],
)
def test_words_that_are_given_measure_nothing_that_is_not_there(gift: str, tmp_path: Path) -> None:
    need = '[needs.more]\nkind = "words"\nmeans = "more"\n'
    step = '[[steps]]\nname = "s"\ntitle = "Press"\ndo = "press"\nsay = "Press. <more>"\n'
    use = f'[uses.u]\npart = "edge"\nwith = {{ more = "{gift}" }}\n[[steps]]\nuse = "u"\n'
    told = own(tmp_path, FLAT + use, HEAD + f"{need}{step}".encode())
    assert "parts/edge.toml, as `u` in tag.toml: steps[1].say" in told


@pytest.mark.parametrize(
    "gift", ["1) + (2", "__import__('os')", "lambda: 1", "v", "a", "1e400", "[1]", "height]", "'x'"]
)
def test_numbers_that_are_given_are_arithmetic_of_the_recipe(gift: str, tmp_path: Path) -> None:
    part = (
        '[needs.a]\nkind = "value"\nmeans = "a"\n[values]\nv = "2 * a"\n'
        '[[conditions]]\nrequire = "v < 9"\nsay = "no"\n'
    )
    use = f'[uses.u]\npart = "edge"\nwith = {{ a = "{gift}" }}\n'
    assert "tag.toml" in own(tmp_path, FLAT + use, HEAD + part.encode())


def test_words_within_words_that_are_given_are_not_filled_in_again(tmp_path: Path) -> None:
    need = "".join(f'[needs.{name}]\nkind = "words"\nmeans = "m"\n' for name in "ab")
    step = '[[steps]]\nname = "s"\ntitle = "<a>"\ndo = "press"\nsay = "<a> <b>"\n'
    (tmp_path / "parts").mkdir()
    (tmp_path / "parts" / "echo.toml").write_text(f"{HEAD.decode()}{need}{step}", "utf-8")
    use = '[uses.u]\npart = "echo"\nwith = { a = "<b>", b = "<a>" }\n[[steps]]\nuse = "u"\n'
    (tmp_path / "tag.toml").write_text(FLAT + use, "utf-8")
    last = find_recipe("tag.toml").file.steps[-1]
    assert isinstance(last, StepTable)
    assert last.say is not None
    assert last.say.text == "<b> <a>"


def test_a_use_of_no_form_is_told(tmp_path: Path) -> None:
    for uses in ("uses = 3", "uses = [1]", "[uses]\nedge = 3", "[uses.edge]\npart = 3"):
        head, _, tail = FLAT.partition("[sizes.width]")
        table, top = ("", uses) if uses.startswith("uses") else (uses, "")
        with pytest.raises(InputError):
            read_recipe(f"{top}\n{head}{table}\n[sizes.width]{tail}", name="tag", source="tag.toml")
    for entry in ("use = 3", "use = []", 'use = "edge"\nsteps = 3', 'use = "edge"\nsteps = [3]'):
        text = FLAT.replace("[finish]", f"[[steps]]\n{entry}\n\n[finish]")
        with pytest.raises(InputError):
            read_recipe(text, name="tag", source="tag.toml")
