"""Several ways to end in one recipe: the first whose condition holds, the last for all else."""

import pytest
from layout_orders import laid, recipe_of

from paramgen.recipe.read_recipe import Recipe
from paramgen.vocabulary.findings import InputError

TAG = """
format = 1
title = "Plant tag"
summary = "A tag for a seedling pot."
sizes.width = { means = "finished width", default = "80mm", least = "20mm", most = "300mm" }
sizes.height = { means = "finished height", default = "40mm", least = "20mm", most = "300mm" }

[choices.cut]
means = "where it is cut"
default = "near"
options = { near = "near its seam", far = "far from it" }

[outlines.finished]
shape = "rectangle"
width = "width"
height = "height"

[outlines.larger]
shape = "outset"
of = "finished"
by = "5"

[pieces.front]
title = "front"
fabric = "felt"
around = "larger"
past = "5"

[lines.seam]
title = "seam"
role = "seam"
along = "finished"

[[steps]]
title = "Lay"
lay = [{ piece = "front", side = "front", up = "right" }]
say = "Lay it."

[[steps]]
title = "Seam"
stitch = ["seam"]
say = "Stitch."
"""


def ending(*finishes: tuple[str, str]) -> Recipe:
    tables = [
        f'[[finish]]\n{when}\nway = "raw edge"\nfinished = "{outline}"\nseam = "finished"\n'
        for when, outline in finishes
    ]
    return recipe_of("\n".join([TAG, *tables]))


def test_the_first_that_holds_is_taken_and_the_last_for_all_else() -> None:
    recipe = ending(("when = \"cut == 'far'\"", "larger"), ("", "finished"))
    assert laid(recipe, {}).finished == pytest.approx((80, 40))
    # 5 more at either side.
    assert laid(recipe, {"cut": "far"}).finished == pytest.approx((90, 50))


@pytest.mark.parametrize(
    "finishes",
    [
        (("", "finished"), ("", "larger")),
        (("when = \"cut == 'far'\"", "finished"),),
        (("", "larger"), ("when = \"cut == 'far'\"", "finished")),
    ],
    ids=["two-for-all", "none-for-all", "the-wrong-way-round"],
)
def test_all_but_the_last_say_when(finishes: tuple[tuple[str, str], ...]) -> None:
    with pytest.raises(InputError, match="the last, which is for all else"):
        ending(*finishes)


def test_binding_is_for_what_is_bound() -> None:
    bound = '[finish]\nway = "bound"\nfinished = "finished"\nseam = "finished"\n'
    raw = '[finish]\nway = "raw edge"\nfinished = "finished"\nseam = "finished"\ncovers = "8"\n'
    for table in (bound, raw):
        with pytest.raises(InputError, match=r"what is bound, and nothing else"):
            recipe_of(f"{TAG}\n{table}")
