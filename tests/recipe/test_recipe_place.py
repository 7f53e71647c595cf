"""On which line of a TOML file a key stands."""

from paramgen.recipe.key_lines import key_lines, line_of

TEXT = """\
# [not.a.table]
format = 1
title = "a # b [c] = d"  # [e]
nested = { one = 1, two = 2 }
many = [
    ["x = 1", 2],  # ]
    [3, { inner = 4 }],
]
long = '''
[no.table]
key = "
'''
quoted = \"\"\" \\\"\"\"
[no.table]
\"\"\"

[sizes.width]  # header
means = "x"
"odd key" = 1
a.b = 2

[ sizes . "tall one" ]
least = 1

[[steps]]
title = "one"

[[steps]]
[[steps.steps]]
title = "two"
[[steps.steps]]
title = "three"

[[steps]]
[steps.repeat]
k = 3
"""

LINES = {
    ("format",): 2,
    ("title",): 3,
    ("nested",): 4,
    ("many",): 5,
    ("long",): 9,
    ("quoted",): 13,
    ("sizes",): 17,
    ("sizes", "width"): 17,
    ("sizes", "width", "means"): 18,
    ("sizes", "width", "odd key"): 19,
    ("sizes", "width", "a"): 20,
    ("sizes", "width", "a", "b"): 20,
    ("sizes", "tall one"): 22,
    ("sizes", "tall one", "least"): 23,
    ("steps",): 25,
    ("steps", 0): 25,
    ("steps", 0, "title"): 26,
    ("steps", 1): 28,
    ("steps", 1, "steps"): 29,
    ("steps", 1, "steps", 0): 29,
    ("steps", 1, "steps", 0, "title"): 30,
    ("steps", 1, "steps", 1): 31,
    ("steps", 1, "steps", 1, "title"): 32,
    ("steps", 2): 34,
    ("steps", 2, "repeat"): 35,
    ("steps", 2, "repeat", "k"): 36,
}


def test_every_header_and_key_is_found_on_its_line() -> None:
    assert key_lines(TEXT) == LINES


def test_line_ends_of_any_system_count_and_other_breaks_do_not() -> None:
    assert key_lines(TEXT.replace("\n", "\r\n")) == LINES
    assert key_lines("a = '\x85\u2028\x0c'\nb = 1") == {("a",): 1, ("b",): 2}


def test_a_place_within_a_line_is_on_the_line_of_what_holds_it() -> None:
    lines = key_lines(TEXT)
    assert line_of(lines, ("many", 1, 1, "inner")) == 5
    assert line_of(lines, ("nested", "two")) == 4
    assert line_of(lines, ("steps", 1, "steps", 1, "say")) == 31
    assert line_of(lines, ("nowhere", "at all")) is None
    assert line_of(lines, ()) is None
