"""Thread in a kit: its sums, bobbins and spools by arithmetic, published rules beside it."""

import csv
import math
from pathlib import Path
from typing import Any

import pytest
from command_line import paramgen
from test_kits_command import kit_of

WORDS = ("kit", "fold-wallet", "--hoop", "5x7in", "--count", "12", "--no-papers")


def thread_of(kit: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = kit["thread"]
    return found


@pytest.fixture(scope="module")
def kit(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    out = tmp_path_factory.mktemp("thread") / "kit"
    ran = paramgen(*WORDS, "--out", out)
    assert (ran.status, ran.err) == (0, "")
    return kit_of(out)


def test_all_hoopings_take_what_their_steps_do_and_the_waste(kit: dict[str, Any]) -> None:
    thread = thread_of(kit)
    (wallet,) = thread["projects"]
    assert wallet["hoopings"] == 12
    # 2·(L + T) for each stitch; 10 to 15 % of waste.
    for end, waste in (("least", 1.10), ("most", 1.15)):
        sewn = sum(
            2 * (step["length"] + step["thick"][end] * step["stitches"]) for step in wallet["steps"]
        )
        assert wallet["both"][end] == pytest.approx(sewn * waste, rel=1e-6)
        assert thread["both"][end] == pytest.approx(12 * sewn * waste, rel=1e-6)
    for name in ("needle", "bobbin", "both"):
        assert thread[name]["least"] < thread[name]["most"]
    # The needle takes more than the bobbin, as tension pulls the lock under.
    assert thread["needle"]["most"] > thread["bobbin"]["most"]


def test_bobbins_and_spools_are_whole(kit: dict[str, Any]) -> None:
    thread = thread_of(kit)
    assert thread["needle_tex"] == pytest.approx(240 / 9, abs=0.05)  # 120 denier in two plies
    for end in ("least", "most"):
        # 1.5 g of 26.7 tex, grams to a km, are 1500 / 26.7 = 56.18 m.
        assert thread["bobbins"][end] == math.ceil(thread["bobbin"][end] / 56_180)
        assert thread["spools"][end] == math.ceil(thread["both"][end] / 500_000)
        assert thread["bobbin_spools"][end] == 0


def test_published_rules_stand_beside_it_and_are_not_far(kit: dict[str, Any]) -> None:
    thread = thread_of(kit)
    (wallet,) = thread["projects"]
    sewn = 12 * sum(step["length"] for step in wallet["steps"])
    stitches = 12 * sum(step["stitches"] for step in wallet["steps"])
    assert thread["ratio_301"]["least"] == pytest.approx(2.5 * 1.10 * sewn, rel=1e-6)
    assert thread["ratio_301"]["most"] == pytest.approx(2.5 * 1.15 * sewn, rel=1e-6)
    assert thread["per_thousand"]["least"] == pytest.approx((5 + 3) * stitches)
    assert thread["per_thousand"]["most"] == pytest.approx((5 + 3.5) * stitches)
    # Through many layers more than a seam of two takes, and no more than twice.
    assert 1 <= thread["both"]["most"] / thread["ratio_301"]["most"] < 2
    assert thread["both"]["least"] < thread["per_thousand"]["most"]


def test_a_thread_of_ones_own_is_bought_as_it_is_sold(tmp_path: Path) -> None:
    own = tmp_path / "paramgen"
    own.mkdir()
    (own / "threads.toml").write_text(
        "[bobbin]\ntex = 15\nsame = false\nholds = 0.3\nspool = 100\n"
        "[lock]\nfrom = 0.5\nto = 0.5\n",
        "utf-8",
    )
    out = tmp_path / "kit"
    assert paramgen(*WORDS, "--out", out, settings=tmp_path).status == 0
    thread = thread_of(kit_of(out))
    # Locked in the middle both take the same; 0.3 g of 15 tex are 20 m.
    assert thread["needle"] == thread["bobbin"]
    assert thread["bobbins"]["most"] == math.ceil(thread["bobbin"]["most"] / 20_000)
    assert thread["bobbin_spools"]["most"] == math.ceil(thread["bobbin"]["most"] / 100_000)
    assert thread["spools"]["most"] == math.ceil(thread["needle"]["most"] / 500_000)
    with (out / "shopping.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = {row["what"]: row for row in csv.DictReader(file)}
    assert rows["needle thread"]["kind"] == "26.7 tex"
    assert rows["bobbin thread"]["kind"] == "15 tex"
    assert int(rows["bobbin thread"]["quantity"]) == thread["bobbin_spools"]["most"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[needle]\ntex = 2", "needle.tex: Input should be greater than or equal to 3"),
        ("[lock]\nfrom = 0.8\nto = 0.2", "lock: `from` is more than `to`"),
        ("[needle]\ncolour = 'red'", "needle.colour: Extra inputs are not permitted"),
    ],
)
def test_what_is_no_thread_is_told_with_its_place(tmp_path: Path, text: str, said: str) -> None:
    own = tmp_path / "paramgen"
    own.mkdir()
    (own / "threads.toml").write_text(text, "utf-8")
    ran = paramgen(*WORDS, "--out", tmp_path / "kit", settings=tmp_path)
    assert ran.status == 2
    assert said in ran.err
    assert "threads.toml" in ran.err
    assert not (tmp_path / "kit").exists()
