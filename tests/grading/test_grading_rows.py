"""From a table to rows: what the columns mean, how folders are named, every fault of a table."""

import time
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from paramgen.grading.rows_to_make import RowToMake, recipes_named, rows_of
from paramgen.grading.table_file import read_table
from paramgen.recipe.read_recipe import Recipe, find_recipe, read_recipe
from paramgen.vocabulary.findings import UNSHOWN, InputError

COASTER, WALLET = find_recipe("coaster"), find_recipe("fold-wallet")
KNOWN: dict[str, Recipe | None] = {"coaster": COASTER, "fold-wallet": WALLET}


def rows(text: str, recipes: dict[str, Recipe | None] | None = None) -> tuple[RowToMake, ...]:
    table = read_table(text.encode(), "set.csv")
    named = recipes_named(table)
    return rows_of(table, recipes or {name: KNOWN.get(name) for name in named})


def faults(text: str) -> list[str]:
    with pytest.raises(InputError) as refusal:
        rows(text)
    return [str(fault) for fault in refusal.value.faults]


def test_an_empty_cell_asks_nothing() -> None:
    (row,) = rows(
        "recipe,name,hoop,width,height,unit,margin,copies\ncoaster,Small,4x4in,,90,in,2,most\n"
    )
    assert row == RowToMake(
        number=2,
        folder="small",
        title="Small",
        recipe="coaster",
        hoop="4x4in",
        unit="in",
        margin="2",
        copies="most",
        values=(("height", "90"),),
    )


def test_columns_may_belong_to_any_recipe_of_the_table() -> None:
    # That a coaster has no pockets is for its row to say: the others are made.
    one, other = rows("recipe,pockets,outline\nfold-wallet,3,\ncoaster,3,round\n")
    assert one.values == (("pockets", "3"),)
    assert other.values == (("pockets", "3"), ("outline", "round"))


def test_an_unknown_column_is_told_with_the_nearest_name() -> None:
    assert faults("recipe,widht,colour\ncoaster,90,blue\n") == [
        "set.csv: no recipe of the table has `widht`. Did you mean `width`?",
        next(
            said for said in faults("recipe,colour\ncoaster,blue\n") if "There are recipe, " in said
        ),
    ]


def test_a_column_may_belong_to_a_recipe_that_cannot_be_read() -> None:
    (row,) = rows("recipe,colour\nmine.toml,blue\n")
    assert row.values == (("colour", "blue"),)


def test_a_table_without_recipes_is_told_with_the_column_that_was_meant() -> None:
    said = faults("recpie,width\ncoaster,90\n")
    assert "set.csv: no recipe of the table has `recpie`. Did you mean `recipe`?" in said
    assert any(one.startswith("set.csv: no column says which recipe.") for one in said)


def test_every_row_without_a_recipe_is_told() -> None:
    said = faults("recipe,width\ncoaster,90\n,91\ncoaster,92\n,93\n")
    assert said == ["set.csv, row 3: says no recipe", "set.csv, row 5: says no recipe"]


def test_names_that_give_one_folder_are_told_with_both_rows() -> None:
    said = faults("recipe,name\ncoaster,Small\ncoaster,Small\ncoaster,SMALL!\n")
    assert said[0].startswith("set.csv, row 3: has the name `Small`, as row 2 does")
    assert said[1].startswith(
        "set.csv, row 4: has the name `SMALL!`, which gives the folder `small`, as row 2 does"
    )


def test_faults_of_form_and_of_meaning_are_told_together() -> None:
    said = faults("recipe,name,widht\ncoaster,a,1,2\ncoaster,b,1\n,b,1\n")
    assert [one.partition(":")[0] for one in said] == [
        "set.csv, row 2", "set.csv", "set.csv, row 4", "set.csv, row 4",
    ]  # fmt: skip


def test_a_thousand_faults_are_not_all_told() -> None:
    said = faults("recipe,name\n" + ",same\n" * 1000)
    assert len(said) == 101
    assert "1899 more faults" in said[-1]  # 1000 without a recipe, 999 names again, 100 told


def test_rows_without_names_are_named_after_what_they_ask() -> None:
    found = rows("recipe,width,hoop,name\ncoaster,90 mm,4x4in,\ncoaster,90 mm,4x4in,\n"
                 "coaster,,,\ncoaster,1,,coaster\n")  # fmt: skip
    assert [row.folder for row in found] == [
        "coaster-width-90-mm-4x4in", "coaster-width-90-mm-4x4in-2", "coaster-2", "coaster",
    ]  # fmt: skip


def test_inches_in_the_name_of_a_row_are_fractions() -> None:
    # 4.5 in is 4 1/2 in and 3.63 in, times 16, is 58.08 sixteenths: 3 10/16 in. With the point
    # left out the one would read as 4 5 in.
    found = rows("recipe,width,hoop\ncoaster,4.5in,4x4in\ncoaster,3.63 in,4x4in\n")
    assert [row.folder for row in found] == [
        "coaster-width-4-1-2in-4x4in", "coaster-width-3-5-8in-4x4in",
    ]  # fmt: skip


LINES = ("coaster,,90", "coaster,,91", "coaster,Best,", "fold-wallet,,130", "coaster,,")


@pytest.mark.parametrize("order", list(permutations(range(5)))[::13])
def test_a_row_keeps_its_folder_wherever_it_stands(order: tuple[int, ...]) -> None:
    def folders(lines: list[str]) -> dict[str, str]:
        found = rows("recipe,name,width\n" + "\n".join(lines) + "\n")
        return {row.folder: ",".join([row.recipe, *dict(row.values).values()]) for row in found}

    assert folders([LINES[at] for at in order]) == folders(list(LINES))


SHOWN = st.characters(codec="utf-8").filter(lambda letter: not UNSHOWN.search(letter))


@given(st.lists(st.text(SHOWN, max_size=9), min_size=1, max_size=6))
def test_folders_are_never_shared_whatever_is_typed(widths: list[str]) -> None:
    cells = ['"' + width.replace('"', '""').replace("\0", "") + '"' for width in widths]
    text = "recipe,width\n" + "".join(f"coaster,{cell}\n" for cell in cells)
    found = [row.folder for row in rows(text)]
    assert len(found) == len(set(found)) == len(widths)


def test_equal_rows_are_numbered_without_trying_every_number_again() -> None:
    # 9,999 rows without a name tried 50,000,000 numbers, some ten seconds.
    begun = time.process_time()
    found = rows("recipe,width\n" + "coaster,100\n" * 9_999)
    assert len({row.folder for row in found}) == 9_999
    assert [row.folder for row in found][-1].endswith("-9999")
    assert time.process_time() - begun < 3


def test_a_recipe_that_has_a_length_named_margin_means_its_own() -> None:
    text = (
        'format = 1\ntitle = "Marker"\nsummary = "A marker."\n'
        '[sizes.width]\nmeans = "width"\ndefault = "40mm"\nleast = "25mm"\nmost = "120mm"\n'
        '[lengths.margin]\nmeans = "left outside"\ndefault = "3mm"\n'
        '[pieces.felt]\ntitle = "felt"\nfabric = "felt"\nwidth = "width"\nheight = "margin * 9"\n'
        '[outlines.seam]\nshape = "rectangle"\nwidth = "width"\nheight = "margin * 9"\n'
        '[lines.seam]\ntitle = "seam"\nrole = "seam"\nalong = "seam"\n'
        '[[steps]]\ntitle = "Lay"\nlay = [{ piece = "felt", side = "front", up = "right" }]\n'
        'say = "Lay it."\n[[steps]]\ntitle = "Seam"\nstitch = ["seam"]\nsay = "Stitch it."\n'
        '[finish]\nway = "raw edge"\nfinished = "seam"\nseam = "seam"\n'
    )
    marker = read_recipe(text, name="marker", source="marker.toml")
    one, other = rows(
        "recipe,margin\nmarker.toml,4\ncoaster,5\n", {"marker.toml": marker, "coaster": COASTER}
    )
    assert (one.values, one.margin) == ((("margin", "4"),), "")
    assert (other.values, other.margin) == ((), "5")


def test_a_row_with_a_title_and_no_name_is_named_by_its_title() -> None:
    one, *alike = rows(
        "recipe,title,width\ncoaster,Pot mat,90\ncoaster,Seed mat,90\ncoaster,Seed mat,100\n"
    )
    assert (one.folder, one.title) == ("pot-mat", "Pot mat")
    # A title that two rows have tells neither from the other.
    assert [row.folder for row in alike] == ["seed-mat-width-90", "seed-mat-width-100"]
