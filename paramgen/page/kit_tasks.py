"""A kit on the page: its plan in words and pictures, and its folder as one file."""

from collections.abc import Generator, Iterator
from contextlib import suppress

from markupsafe import Markup

from paramgen.drawings.back_end.svg import to_svg
from paramgen.kits.class_asked import class_asked
from paramgen.kits.cloth_asked import cloth_asked, roles_of
from paramgen.kits.cutting_picture import cutting_pictures
from paramgen.kits.kit_files import kit_contents
from paramgen.kits.kit_order import KitOrder
from paramgen.kits.kit_shopping import proof_words, shopping
from paramgen.kits.kit_told import KitTold
from paramgen.kits.kit_understood import (
    count_asked,
    kit_cutting,
    prices_asked,
    seconds_asked,
    tell_kit,
)
from paramgen.kits.kit_words import BEFORE_CUTTING, ROTARY_CARE, key_rows, plan_title, taken_words
from paramgen.kits.price_names import price_names
from paramgen.kits.price_section import each_words
from paramgen.kits.worked_kit import work_out
from paramgen.pack.file_names import project_name
from paramgen.page.desk import Desk
from paramgen.page.filled_templates import filled
from paramgen.page.kit_in_address import at_field, kit_in
from paramgen.page.long_jobs import JobResult, JobStage, JobState, Told
from paramgen.page.seconds_left import seconds_left
from paramgen.page.watched_work import Tell, watched
from paramgen.page.zip_of_files import zipped
from paramgen.vocabulary.findings import CannotMakeError, Faults, InputError
from paramgen.vocabulary.unit import Unit
from paramgen.wording.say import said, sentence


def kit(table: Desk, query: str) -> Iterator[Told]:
    """Plan a kit, and put in words and pictures what the page shows of it."""
    found = yield from _told(table, query)
    if found is not None:
        yield JobResult("text/html", "", _shown(found).encode())


def take_kit(table: Desk, query: str) -> Iterator[Told]:
    """Plan a kit, and write its whole folder as one file."""
    found = yield from _told(table, query)
    if found is None:
        return
    yield JobState(JobStage.WORKING, "Writing its papers", 0.9)
    wanted = table.understood(query)
    name = f"kit-{found.kit.orders[0].count}-{project_name(found.kit.orders[0].made)}"
    contents = kit_contents(found, wanted.printing.paper)
    yield JobResult("application/zip", f"{name}.zip", zipped({name: contents}))


def _told(table: Desk, query: str) -> Generator[JobState, None, KitTold | None]:
    """Plan a kit; what it comes to, or nothing once it was said why there is none."""
    try:
        return (yield from watched(lambda tell: _worked_out(table, query, tell)))
    except InputError as problem:
        titles = _titles(table, query)
        told = [str(at_field(one, titles)) for one in problem.faults]
        yield JobState(JobStage.REFUSED, " ".join(told))
    except CannotMakeError as problem:
        unit = table.understood(query).order.unit
        told = [sentence(said(one, unit)[0]) for one in problem.findings if one.stops]
        yield JobState(JobStage.REFUSED, f"It cannot be made as asked. {' '.join(told)}")
    return None


def _titles(table: Desk, query: str) -> dict[str, str]:
    """What can be given a price, by name; nothing where it cannot be made."""
    with suppress(InputError):
        made = table.attempt(table.understood(query)).made
        return dict(price_names(made)) if made else {}
    return {}


def _worked_out(table: Desk, query: str, tell: Tell) -> KitTold:
    question, faults = kit_in(query).question, Faults()
    wanted = faults.tried(lambda: table.understood(query))
    unit = wanted.order.unit if wanted else Unit.MM
    count = faults.tried(lambda: count_asked(question.count or "1", "how many to make"))
    cutting = faults.tried(lambda: kit_cutting(question, unit))
    seconds = faults.tried(lambda: seconds_asked(question.seconds))
    in_class = faults.tried(lambda: class_asked(question.people, question.machines))
    prices = faults.tried(lambda: prices_asked(question))
    attempt = table.attempt(wanted) if wanted else None
    roles = roles_of([attempt.made]) if attempt and attempt.made else None
    there = {} if roles is None else faults.tried(lambda: cloth_asked(question.fabrics, roles))
    if (
        faults
        or attempt is None
        or count is None
        or cutting is None
        or seconds is None
        or there is None
    ):
        raise InputError(faults)
    made = attempt.sound
    counted = seconds_left(seconds)

    def left() -> float:
        tell(JobState(JobStage.WORKING, "Planning how to cut it"))
        return counted()

    order = KitOrder(made=made, count=count)
    return tell_kit(work_out([order], there, cutting, unit, left), in_class, prices)


def _shown(told: KitTold) -> str:
    kit, price = told.kit, told.price
    plans = []
    for place, plan in enumerate(kit.sheets, 1):
        words = [taken_words(plan, kit.unit)]
        words += [proof_words(plan, kit.unit)] if plan.bought else []
        drawn = cutting_pictures(plan, kit, f"cloth-{place}")
        plans.append(
            {
                "title": plan_title(plan, kit),
                "words": words,
                "pictures": [(one.title, Markup(to_svg(one))) for one in drawn],
                "keys": list(key_rows(plan, kit.unit)),
            }
        )
    sections = [
        (section, [(one.title, Markup(to_svg(one))) for one in section.pictures])
        for section in told.sections
    ]
    return filled(
        "part_kit.html",
        title=kit.title,
        rows=shopping(told),
        each=[each_words(one, price.currency) for one in price.orders] if price else [],
        before=BEFORE_CUTTING,
        care=ROTARY_CARE,
        plans=plans,
        sections=sections,
    )
