"""The parts of a project's page, in the order in which a person looks for them."""

from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

from markupsafe import Markup

from paramgen.drawings.front_end.scene import Scene, hooped
from paramgen.drawings.pictures.finished_views import finished_sheets
from paramgen.embellishment.panel_fitness import takes_stitching
from paramgen.finished.finished_thing import FinishedThing
from paramgen.fit.what_would_do import worth_looking
from paramgen.layout.panel_names import panel_titles
from paramgen.lengths import show, show_size_both
from paramgen.making import Attempt, Made
from paramgen.ordering.known_lists import unit_asked
from paramgen.ordering.order_from_words import UnderstoodRequest
from paramgen.ordering.settings_filled_in import with_settings
from paramgen.ordering.typed_request import TypedRequest
from paramgen.ordering.typed_values import typed
from paramgen.page.asked_form import AskedForm, FormField, asked_form, asked_names
from paramgen.page.desk import Desk, filled_in
from paramgen.page.filled_templates import filled
from paramgen.page.labelled_names import label_of, with_labels
from paramgen.page.said_pictures import SaidPicture, finished_said, whole_said
from paramgen.page.typed_address import address_of, asked_in
from paramgen.recipe.read_recipe import Recipe
from paramgen.vocabulary.cloth import NO_CLOTHS, Cloths
from paramgen.vocabulary.findings import Fault, Finding, InputError, Instead
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit
from paramgen.wording.say import how_bad, said, sentence

if TYPE_CHECKING:
    from paramgen.supplies.supply import Supply


@dataclass(frozen=True, kw_only=True)
class SaidFinding:
    """A finding as the page shows it.

    Parameters
    ----------
    number : int
        From 1.
    letter : str
        What it is told by, in the picture too where it has a place: stops have numbers there.
    stops : bool
    how_bad : str
    message, remedy : Markup
    at : (x, y) or None
        In the picture of the hoop, mm.
    ways : tuple of (what it says, address)
        What can be made instead.
    """

    number: int
    letter: str
    stops: bool
    how_bad: str
    message: Markup
    remedy: Markup
    at: tuple[float, float] | None
    ways: tuple[tuple[str, str], ...]


class ShownProject:
    """What is shown of what an address asks for.

    Parameters
    ----------
    desk : Desk
    query : str
    text : str or None
        Of a recipe that stands on the page.
    """

    def __init__(self, desk: Desk, query: str, text: str | None = None) -> None:
        self.desk, self.query, self.text = desk, query, text
        self.words: TypedRequest = asked_in(query).words

    @cached_property
    def _understood(self) -> UnderstoodRequest | tuple[Fault, ...]:
        try:
            return self.desk.understood(self.query, self.text)
        except InputError as problem:
            return problem.faults

    @property
    def wanted(self) -> UnderstoodRequest | None:
        """What is asked for; None if it is not understood."""
        return None if isinstance(self._understood, tuple) else self._understood

    @property
    def in_hoop(self) -> TypedRequest:
        """The words with the hoop that it is shown in, where they name none."""
        if self.wanted and not self.words.hoop and not self.words.more_hoops:
            return replace(self.words, hoop=self.wanted.order.room.hoop.name)
        return filled_in(self.words, self.desk.hoops, self.desk.settings)

    @property
    def faults(self) -> tuple[Fault, ...]:
        """What is not understood."""
        if isinstance(self._understood, tuple):
            return tuple(replace(one, where=_entry(one.where)) for one in self._understood)
        return self.attempt.faults if self.attempt else ()

    @cached_property
    def attempt(self) -> Attempt | None:
        """What comes of it; None if it is not understood."""
        return self.desk.attempt(self.wanted) if self.wanted else None

    @property
    def understood(self) -> bool:
        """Whether all of it is."""
        return self.attempt is not None and not self.faults

    @property
    def made(self) -> Made | None:
        """The project in its hoop; None unless it can be made as asked."""
        return self.attempt.made if self.attempt else None

    @property
    def thing(self) -> FinishedThing | None:
        """The finished thing; None if it has no shape, or not all is understood."""
        proven = self.attempt.proven if self.attempt and not self.faults else None
        return proven.thing if proven else None

    @cached_property
    def unit(self) -> Unit:
        """The person's."""
        if self.wanted:
            return self.wanted.order.unit
        said_once = with_settings(self.words, self.desk.settings)
        values = [pair.partition("=")[2] for pair in self.words.values]
        try:
            return unit_asked(self.words.unit, values, said_once.usual_unit, [self.words.hoop])
        except InputError:
            return Unit.MM

    @cached_property
    def recipe(self) -> Recipe | None:
        """The recipe; None if there is none of that name, or it has faults."""
        try:
            return self.desk.recipe(self.words.recipe, self.text)
        except InputError:
            return None

    @cached_property
    def form(self) -> AskedForm | None:
        """The form; None if there is no recipe."""
        if self.recipe is None:
            return None
        return asked_form(
            self.recipe,
            self.words.values,
            self.unit,
            self.attempt,
            self.faults,
            self.words.cloths,
            self.labelled,
        )

    @property
    def panels(self) -> tuple[str, ...]:
        """Titles of its panels, first those on which something can be stitched for its looks.

        Where what is asked has no sizes they are those of its usual ones.
        """
        sized = self.attempt.sized if self.attempt else None
        if sized is None and self.recipe is not None:
            with suppress(InputError):
                sized = self.desk.workshop.works.sized(self.recipe, {}, unit=self.unit)
        titles = panel_titles(sized) if sized else {}
        project = self.attempt.project if self.attempt else None
        last = {name for name in titles if project is None or not takes_stitching(project, name)}
        return tuple(dict.fromkeys(titles[one] for one in sorted(titles, key=last.__contains__)))

    @property
    def marked(self) -> tuple[FormField, ...]:
        """Fields of the recipe in which something is typed that is not understood."""
        return tuple(one for one in self.form.fields if one.fault) if self.form else ()

    @cached_property
    def scene(self) -> Scene | None:
        """The project ready to be drawn, as far as it goes; None if it has no shape."""
        attempt = self.attempt
        if attempt is None or attempt.project is None:
            return None
        hoop = attempt.room.hoop
        # No finished thing: it takes long, and the picture of all lines needs none.
        return hooped(attempt.project, hoop.name, hoop.width, hoop.height, cloths=self.cloths)

    @cached_property
    def picture(self) -> SaidPicture | None:
        """Every stitched line in the hoop, as far as it goes; None if it has no shape."""
        return whole_said(self.scene) if self.scene else None

    @property
    def cloths(self) -> Cloths:
        """What the fabrics look like, as far as it is said."""
        return self.wanted.cloths if self.wanted else NO_CLOTHS

    @cached_property
    def findings(self) -> tuple[SaidFinding, ...]:
        """What is found, in words."""
        if self.attempt is None:
            return ()
        listed = enumerate(self.attempt.findings, start=1)
        return tuple(self._said(number, one) for number, one in listed)

    @property
    def ways(self) -> tuple[tuple[str, str], ...]:
        """What can be made instead where it was refused, each once: what it says, its address."""
        each = [way for one in self.findings if one.stops for way in one.ways]
        return tuple(dict.fromkeys(each))

    @property
    def to_be_looked_for(self) -> bool:
        """Whether it was refused, and what would do instead is yet to be looked for."""
        attempt = self.attempt
        return attempt is not None and self.made is None and worth_looking(attempt.findings)

    def _said(self, number: int, finding: Finding) -> SaidFinding:
        message, remedy = said(finding, self.unit)
        ways = tuple((self.way(one), self.address_instead(one)) for one in finding.instead)
        return SaidFinding(
            number=number,
            letter=lettered_as(number),
            stops=finding.stops,
            how_bad=how_bad(finding.severity),
            message=self.labelled(sentence(message)),
            remedy=self.labelled(remedy),
            at=finding.place[0] if finding.place else None,
            ways=ways,
        )

    def labelled(self, text: object) -> Markup:
        """A message in which names of the recipe read as its fields are labelled.

        Whoever writes the recipe reads its own names.
        """
        names = asked_names(self.recipe) if self.recipe and self.text is None else ()
        return with_labels(str(text), names, self.address)

    def way(self, one: Instead) -> str:
        """What a press on a remedy does."""
        parts = [f"{label_of(name)} {show(mm, self.unit)}" for name, mm in one.sizes]
        parts += [f"hoop {one.hoop}"] if one.hoop and one.hoop != self.hoop else []
        parts += [f"{one.copies} copies"] if one.copies != 1 else []
        return f"Use {', '.join(parts)}" if parts else "Use what can be made"

    @property
    def address(self) -> str:
        """The address that asks for it."""
        return address_of(self.words)

    @property
    def hoop(self) -> str:
        """Name of the hoop it lies in."""
        return self.attempt.room.hoop.name if self.attempt else ""

    @property
    def finished_size(self) -> str:
        """In words; empty if there is none."""
        project = self.attempt.project if self.attempt else None
        return show_size_both(*project.finished, self.unit, depth=project.depth) if project else ""

    @property
    def stitches(self) -> int:
        """How many there are."""
        hooped_now = self.attempt.hooped if self.attempt else None
        return sum(step.stitch_count for step in hooped_now.sewn) if hooped_now else 0

    def address_instead(self, one: Instead) -> str:
        """The address that asks for what can be made instead."""
        values = dict(pair.partition("=")[::2] for pair in self.words.values)
        scaled = self.attempt is not None and self.attempt.order.scale != 1
        if scaled and self.attempt is not None and self.attempt.sized is not None:
            own = self.attempt.sized.own_sizes
            values.update({name: typed(mm, self.unit) for name, mm in own.items()})
        values.update({name: typed(mm, self.unit) for name, mm in one.sizes})
        copies = "" if one.copies == 1 and self.words.copies in ("", "1") else str(one.copies)
        words = replace(
            self.words,
            values=tuple(f"{name}={value}" for name, value in values.items()),
            hoop=one.hoop or self.words.hoop,
            more_hoops=() if one.hoop else self.words.more_hoops,
            copies=copies,
            scale="" if scaled else self.words.scale,
        )
        return address_of(words)


def lettered_as(number: int) -> str:
    """A place in a list as letters.

    Examples
    --------
    >>> [lettered_as(number) for number in (1, 26, 27, 52, 53)]
    ['A', 'Z', 'AA', 'AZ', 'BA']
    """
    before, last = divmod(number - 1, 26)
    return (lettered_as(before) if before else "") + chr(ord("A") + last)


def parts(shown: ShownProject) -> Iterator[tuple[str, str]]:
    """Work out the parts of the page, by their names.

    Yields
    ------
    name, html : str
    """
    yield from first_parts(shown)
    yield from later_parts(shown)


def first_parts(shown: ShownProject) -> Iterator[tuple[str, str]]:
    """The picture, if it has a shape: else the last that had one is still seen."""
    picture = shown.picture if shown.understood else None
    if picture is not None:
        yield "picture", filled("part_picture.html", svg=picture.svg)


def later_parts(shown: ShownProject) -> Iterator[tuple[str, str]]:
    """Work out all parts but the picture, what is made of it first."""
    understood = shown.understood
    elsewhere = () if understood else _elsewhere(shown, shown.form)
    yield "verdict", filled("part_verdict.html", shown=shown, faults=elsewhere)
    yield from _form_parts(shown.form)
    yield "panels", filled("part_panels.html", panels=shown.panels)
    if not understood:
        return
    yield "findings", filled("part_findings.html", findings=shown.findings, shown=shown)
    picture = shown.picture
    if picture is not None:
        yield "key", filled("part_key.html", picture=picture)
        yield "marks", filled("part_marks.html", findings=shown.findings, handles=_handles(shown))
    yield "finished", filled("part_finished.html", pictures=_finished(shown), shown=shown)
    yield "cut", filled("part_cut.html", rows=_cut(shown))
    made = shown.made
    yield "have", filled("part_have.html", made=made, rows=_have(made))
    yield "steps", filled("part_steps.html", shown=shown, steps=made.project.steps if made else ())


def _form_parts(form: AskedForm | None) -> Iterator[tuple[str, str]]:
    if form is not None:
        # What the recipe asks: where that changes the form is made anew.
        yield "asks", filled("part_asks.html", asks=[one.name for one in form.fields])
        for one in (*form.fields, *form.at.values()):
            yield f"note-{one.name}", filled("part_note.html", field=one)


def _handles(shown: ShownProject) -> Iterator[Mapping[str, Any]]:
    from paramgen.page.edge_handles import edge_handles  # noqa: PLC0415 (as below)

    assert shown.attempt is not None
    for one in edge_handles(shown.attempt):
        yield {**vars(one), "shown": show(one.value, shown.unit)}


def _cut(shown: ShownProject) -> tuple[Any, ...]:
    from paramgen.supplies.cut_list import cut_list  # noqa: PLC0415 (as below)

    attempt = shown.attempt
    if attempt is None or attempt.project is None:
        return ()
    return tuple(cut_list(attempt.project))


def _have(made: Made | None) -> "tuple[Supply, ...]":
    # The first picture waits for whatever is loaded before it.
    from paramgen.supplies.all_supplies import supplies  # noqa: PLC0415

    return tuple(supplies(made)) if made else ()


def _finished(shown: ShownProject) -> tuple[SaidPicture, ...]:

    sheets = finished_sheets(shown.thing, shown.cloths) if shown.thing else ()
    return tuple(finished_said(one) for one in sheets)


def _elsewhere(shown: ShownProject, form: AskedForm | None) -> tuple[Fault, ...]:
    """Faults that stand at no field of the recipe."""
    at = {one.name.replace("cloth-", "cloth ") for one in form.fields} if form else set()
    return tuple(one for one in shown.faults if one.where not in at)


def _entry(where: str) -> str:
    """What an option is called in an address; the rest stays."""
    option = where.removeprefix("--")
    return option.replace("-", "_") if option != where else where
