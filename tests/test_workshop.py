"""A workshop goes as far as it can, keeps what it worked out, and gives what `make` gives."""

import shutil
from pathlib import Path

import pytest

from paramgen import CannotMakeError, InputError, Order, Room, Workshop, find_hoop
from paramgen.fit.nearest_sizes import nearest_that_works
from paramgen.installed import templates
from paramgen.making import make
from paramgen.ordering.order_from_words import asked
from paramgen.ordering.typed_request import TypedRequest
from paramgen.reference.hoops import listed
from paramgen.sizing import Sized, size
from paramgen.works import Kept, Works

HOOPS = listed()


def order(workshop: Workshop, recipe: str, hoop: str, **sizes: str | float) -> Order:
    return Order(workshop.recipe(recipe), sizes, Room(find_hoop(hoop, HOOPS)))


def test_what_is_made_is_what_make_makes() -> None:
    workshop = Workshop()
    one = order(workshop, "plant-tag", "130x180")
    attempt, made = workshop.attempt(one), make(one, HOOPS)
    assert attempt.made is not None
    assert attempt.findings == made.project.findings
    assert [step.stitch_count for step in attempt.made.sewn] == [
        step.stitch_count for step in made.sewn
    ]
    assert attempt.made.extent == made.extent


def test_what_exceeds_the_hoop_is_there_to_be_looked_at() -> None:
    # A field of 100: the seam of 140 is half a millimetre outside, and its stitches 2 mm more.
    workshop = Workshop()
    attempt = workshop.attempt(order(workshop, "coaster", "100x100", width="140mm"))
    assert attempt.made is None
    assert attempt.hooped is None
    assert [one.code for one in attempt.findings if one.stops] == ["hoop-exceeded"]
    assert attempt.stitched is not None
    assert attempt.stitched.needs == pytest.approx((145, 145), abs=0.5)
    assert attempt.project is attempt.stitched.project
    assert attempt.proven is not None


def test_what_is_asked_wrongly_is_a_fault_and_nothing_else_is_there() -> None:
    workshop = Workshop()
    attempt = workshop.attempt(order(workshop, "coaster", "100x100", widht="90mm"))
    assert [fault.where for fault in attempt.faults] == ["widht"]
    assert attempt.findings == ()
    for part in (attempt.sized, attempt.hooped, attempt.stitched, attempt.project, attempt.made):
        assert part is None
    with pytest.raises(InputError):
        attempt.sound  # noqa: B018


def test_sizes_that_have_no_shape_say_why() -> None:
    workshop = Workshop()
    attempt = workshop.attempt(order(workshop, "fold-wallet", "160x260", width="81mm"))
    assert attempt.sized is not None
    assert attempt.made is None
    assert any(one.stops for one in attempt.findings)
    with pytest.raises(CannotMakeError):
        attempt.sound  # noqa: B018


def test_the_same_order_is_not_worked_out_again() -> None:
    workshop = Workshop()
    one = order(workshop, "coaster", "130x180")
    assert workshop.attempt(one) is workshop.attempt(order(workshop, "coaster", "130x180"))
    assert workshop.attempt(one) is not workshop.attempt(order(workshop, "coaster", "100x100"))


def test_what_is_typed_is_sized_once(monkeypatch: pytest.MonkeyPatch) -> None:
    workshop = Workshop()
    sized: list[object] = []

    def counted(*of: object, **more: object) -> Sized:
        sized.append(of)
        return size(*of, **more)  # type: ignore[arg-type]

    monkeypatch.setattr("paramgen.works.size", counted)
    words = TypedRequest(recipe="coaster", values=["width=4in"], hoop="130x180")
    typed = asked(words, find=workshop.recipe, works=workshop.works)
    assert workshop.attempt(typed.order).made is not None
    assert workshop.asking(typed.order).sized.own_sizes["width"] == pytest.approx(4 * 25.4)
    assert len(sized) == 1


def test_a_second_question_rehearses_nothing_again(monkeypatch: pytest.MonkeyPatch) -> None:
    workshop, rooms = Workshop(), Room(find_hoop("130x180", HOOPS))
    mat = order(workshop, "coaster", "130x180")

    def ask() -> object:
        asking = workshop.asking(mat)
        return nearest_that_works(asking, "width", "height", (127.0, 203.2), rooms, 1.0)

    first = ask()

    def never(*_: object, **__: object) -> None:
        raise AssertionError("worked out again")

    monkeypatch.setattr("paramgen.works.stitch", never)
    monkeypatch.setattr("paramgen.works.farthest_needles", never)
    monkeypatch.setattr("paramgen.works.Examined", never)
    assert ask() == first


def test_a_recipe_that_is_changed_is_read_again(tmp_path: Path) -> None:
    workshop, mine = Workshop(), tmp_path / "coaster.toml"
    shutil.copy(templates() / "coaster.toml", mine)
    before = workshop.recipe(str(mine))
    assert workshop.recipe(str(mine)) is before
    mine.write_text(mine.read_text("utf-8").replace('title = "Coaster"', 'title = "Mat"'), "utf-8")
    after = workshop.recipe(str(mine))
    assert after.file.title == "Mat"
    assert after.key != before.key


def test_no_more_is_kept_than_was_said() -> None:
    kept = Kept[int](most=3)
    asked: list[int] = []

    def answer(number: int) -> int:
        return kept.get(number, lambda: asked.append(number) or number)  # type: ignore[func-returns-value]

    for number in (1, 2, 3, 1, 4, 1, 2):
        assert answer(number) == number
    # 4 takes the place of 2, which was asked for longest ago; 2 then that of 3.
    assert asked == [1, 2, 3, 4, 2]
    assert len(kept) == 3


def test_that_something_cannot_be_made_is_kept_too() -> None:
    tried: list[int] = []
    kept = Kept[int](most=3)

    def fails() -> int:
        tried.append(1)
        raise CannotMakeError([])

    for _ in range(2):
        with pytest.raises(CannotMakeError):
            kept.get("seam", fails)
    assert tried == [1]


def test_works_that_keep_nothing_work_everything_out(monkeypatch: pytest.MonkeyPatch) -> None:
    works, sized = Works(0, 0), Workshop().attempt(order(Workshop(), "coaster", "130x180")).sized
    assert sized is not None
    assert works.stitched(sized) is not works.stitched(sized)
    keeping = Works()
    assert keeping.stitched(sized) is keeping.stitched(sized)


def test_what_disappoints_is_rehearsed_and_made() -> None:
    # A card 54 mm high in pockets spread evenly: too little of it stands out of the deepest.
    workshop = Workshop()
    card = {
        "packet_width": 85.6,
        "packet_height": 54.0,
        "packet_thickness": 0.8,
        "most_stagger": 30,
    }
    attempt = workshop.attempt(
        order(workshop, "fold-wallet", "130x180", width=96, height=120, **card)
    )
    assert "recipe-condition" in [one.code for one in attempt.findings if not one.stops]
    assert attempt.proven is not None
    assert attempt.made is not None


def test_what_sticks_out_is_drawn_before_it_is_known_what_would_do(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    workshop = Workshop()
    room = Room(find_hoop("100x100", workshop.hoops))
    attempt = workshop.attempt(Order(workshop.recipe("coaster"), {"width": "105 mm"}, room))

    def looked_for(*_: object, **__: object) -> None:
        raise AssertionError("what would do was looked for")

    monkeypatch.setattr("paramgen.making.put_copies_in_hoop", looked_for)
    assert attempt.project is not None
    monkeypatch.undo()
    assert [one.code for one in attempt.findings if one.stops] == ["hoop-exceeded"]
    assert attempt.hooped is None
