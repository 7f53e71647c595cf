"""What a kit costs: by sums from its own amounts, and nothing rounded before it is shown."""

import csv
from pathlib import Path
from typing import Any

import pytest
from command_line import paramgen
from test_kits_command import kit_of

from paramgen.cli.exit_status import WRONG
from paramgen.kits.prices_typed import PricePer, prices_in, prices_typed
from paramgen.vocabulary.findings import InputError

WALLET = ("kit", "fold-wallet", "--hoop", "5x7in", "--count", "12", "--unit", "mm", "--no-papers")


def priced(out: Path, *words: str | Path) -> dict[str, Any]:
    ran = paramgen(*words, "--out", out)
    assert (ran.status, ran.err) == (0, "")
    return kit_of(out)


def test_a_price_is_that_of_what_goes_in_and_of_time(tmp_path: Path) -> None:
    prices = ("--price", "outer=12.50 per m", "--price", "zip=0.90", "--price", "stabiliser=0.4")
    words = (*WALLET, *prices, "--price", "thread=4.50", "--rate", "18", "--currency", "EUR")
    kit = priced(tmp_path / "kit", *words, "--shrinkage", "3%")
    price = kit["price"]
    (outer,) = (one for one in kit["fabrics"] if one["role"] == "outer")
    # Bought before it shrinks: length / (1 − 0.03).
    metres = outer["length"] / 0.97 / 1000
    # At the most it may take, of a spool of 500 m.
    spools = kit["thread"]["both"]["most"] / 500_000
    materials = 12.5 * metres + 0.9 * 12 + 0.4 * 12 + 4.5 * spools
    assert price["materials"] == pytest.approx(materials, rel=1e-9)
    (time,) = kit["times"]
    seconds = 12 * (time["prepare"] + time["at_machine"] + time["finish"])
    assert price["work"] == pytest.approx(18 * seconds / 3600, rel=1e-6)
    assert price["whole"] == pytest.approx(price["materials"] + price["work"], rel=1e-12)
    (each,) = price["projects"]
    assert each["each"] == pytest.approx(price["whole"] / 12, rel=1e-12)
    assert each["each"] != round(each["each"], 2)
    # As it is sold: 10 cm at a time, and whole spools.
    assert outer["buy"] % 100 == pytest.approx(0)
    counted = 0.9 * 12 + 0.4 * 12 + 4.5 * kit["thread"]["spools"]["most"]
    bought = 12.5 * outer["buy"] / 1000 + counted
    assert price["bought"] == pytest.approx(bought, rel=1e-9)
    assert {"lining", "pocket", "ribbon", "tape"} <= set(price["unpriced"])
    with (tmp_path / "kit" / "shopping.csv").open(encoding="utf-8-sig", newline="") as file:
        listed = {row["what"]: row for row in csv.DictReader(file)}
    assert listed["outer"]["costs"] == f"{12.5 * outer['buy'] / 1000:.2f}"
    assert (listed["stabiliser"]["price"], listed["stabiliser"]["costs"]) == ("0.4", "4.80")
    assert (listed["outer"]["per"], listed["outer"]["currency"]) == ("m", "EUR")
    assert listed["lining"]["costs"] == ""
    page = (tmp_path / "kit" / "kit.html").read_text("utf-8")
    assert f"{each['each']:.2f}" in page
    assert "EUR" in page


def test_a_yard_and_a_metre_cost_what_they_are_long(tmp_path: Path) -> None:
    found = [
        priced(tmp_path / unit, *WALLET, "--price", f"outer={price} per {unit}")["price"]["whole"]
        for unit, price in (("m", "10"), ("yd", "9.144"))
    ]
    assert found[0] == pytest.approx(found[1], rel=1e-9)  # 1 yd = 0.9144 m


def test_projects_share_a_cloth_by_what_they_take_of_it(tmp_path: Path) -> None:
    table = tmp_path / "swap.csv"
    table.write_text(
        "recipe,name,hoop,count,width\nfold-wallet,Wallet,5x7in,3,\nzip-pouch,Sleeve,180x300,2,\n",
        "utf-8",
    )
    prices = tmp_path / "prices.csv"
    prices.write_text("name;price;per\nouter;10,00;m\nzip;1,20;\nlining;1;m\n", "utf-8")
    words = ("kit", table, "--prices", prices, "--price", "lining=8 per m", "--no-papers")
    kit = priced(tmp_path / "kit", *words, "--rate", "12")
    price = kit["price"]
    wallet, sleeve = price["projects"]
    # What was typed comes over the table: lining at 8.
    assert {one["title"]: one["price"] for one in price["rows"]}["lining"] == 8
    assert sum(one["materials"] for one in price["projects"]) == pytest.approx(price["materials"])
    assert sum(one["work"] for one in price["projects"]) == pytest.approx(price["work"])
    materials = 1.2 * wallet["count"]
    for role, much in (("outer", 10.0), ("lining", 8.0)):
        (cloth,) = (one for one in kit["fabrics"] if one["role"] == role)
        areas = {"wallet": 0.0, "all": 0.0}
        for piece in cloth["placed"]:
            area = piece["width"] * piece["height"]
            areas["all"] += area
            areas["wallet"] += area * (piece["piece"] in WALLET_PIECES)
        materials += much * cloth["length"] / 1000 * areas["wallet"] / areas["all"]
    assert wallet["materials"] == pytest.approx(materials, rel=1e-6)
    assert (wallet["count"], sleeve["count"]) == (3, 2)


WALLET_PIECES = {"upper-outer", "lower-outer", "lining", "pouch-lining"}


def test_what_is_there_already_costs_nothing(tmp_path: Path) -> None:
    words = ("kit", "coaster", "--hoop", "130x180", "--no-papers")
    there = ("--fabric", "top=50 x 50 cm", "--price", "top=12 per m", "--price", "back=1")
    price = priced(tmp_path / "kit", *words, *there)["price"]
    assert {one["title"]: (one["used"], one["bought"]) for one in price["rows"]}["top"] == (0, 0)
    assert price["materials"] > 0


def test_what_is_no_price_is_told_all_together(tmp_path: Path) -> None:
    table = tmp_path / "prices.csv"
    table.write_text("name,price,per\nouter,dear,m\n,3,\nzip,1,mile\n", "utf-8")
    words = ("--price", "outer", "--price", "zip=-1", "--rate", "much", "--prices", table)
    out = tmp_path / "kit"
    ran = paramgen(*WALLET, *words, "--out", out)
    assert ran.status == WRONG
    for said in (
        "`outer` says no price",
        "--price zip: `-1` is no price",
        "--rate: `much` is no price",
        "row 2: `dear per m` is no price",
        "row 3: this price is of nothing",
        "row 4: nothing is sold per `mile`",
    ):
        assert said in ran.err
    ran = paramgen(*WALLET, "--price", "outr=3", "--price", "zip=3 per m", "--out", out)
    assert ran.status == WRONG
    assert "nothing in this kit is called `outr`. Did you mean `outer`?" in ran.err
    assert "`zip` is not sold per m. Give its price per each." in ran.err
    assert not out.exists()


def test_a_table_of_prices_names_its_columns() -> None:
    assert prices_in("\ufeffprice,name\n3.5,Zip\n", "")["zip"].much == 3.5
    assert prices_typed(["tape=2/yd"])["tape"].per is PricePer.YARD
    for text in ("", "zip,3\n", "name,price,colour\nzip,3,red\n"):
        with pytest.raises(InputError, match="this is no table of prices"):
            prices_in(text, "prices.csv")
