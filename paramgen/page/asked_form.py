"""The form of a recipe, made from what the recipe itself declares."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from enum import StrEnum

from markupsafe import Markup

from paramgen.lengths import show
from paramgen.making import Attempt
from paramgen.ordering.cloths_asked import fabric_roles, role_of
from paramgen.page.labelled_names import label_of
from paramgen.page.typed_address import CLOTH, OWN
from paramgen.recipe.built_in_lengths import BUILT_IN, RULER_MARK_MEANS
from paramgen.recipe.language import AskedSize, Length
from paramgen.recipe.read_recipe import Recipe
from paramgen.vocabulary.findings import Fault
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.unit import Unit
from paramgen.wording.load import english
from paramgen.wording.say import sentence

#: What every project is asked beside what its recipe asks, by its name in the address, and how it
#: is said.
OF_EVERY_PROJECT: Mapping[str, str] = {
    "hoop": "One of the list such as 5x7in, or a field of your own such as 140x200mm",
    "copies": "A number, or “most”",
    "margin": "At each side: a length",
    "holds": "One of the list, or its width x height: 90x150mm; 90x150x3mm with its thickness",
    "title": "",
    "on": "Quilting or edge lines on a panel: lower outer=quilting:diagonal,20mm; several with "
    "semicolons between",
}


#: A length that every recipe asks for.
RULER_MARK = "ruler_mark"

#: So many letters can be read in a field that stands beside the picture, or on a phone.
FITS_FIELD = 34


class FieldSort(StrEnum):
    """What is typed or picked."""

    LENGTH = "length"
    COUNT = "count"
    CHOICE = "choice"
    CLOTH = "cloth"
    WORDS = "words"


@dataclass(frozen=True, kw_only=True)
class FormField:
    """One thing that a person may say.

    Parameters
    ----------
    name, key : str
        In the recipe, and in the address.
    sort : FieldSort
    means : str
    typed : str
        As it was typed; empty where it is left as it is.
    now : str
        What it is.
    least, most : str
        Empty where there is no limit.
    options : tuple of (name, what it is)
    usual : str
        The option that the recipe takes where nothing is said.
    fault : str
        What is wrong with what was typed.
    role : str
        Of a fabric; empty for all else.
    """

    name: str
    key: str
    sort: FieldSort
    means: str
    typed: str
    now: str
    least: str = ""
    most: str = ""
    options: tuple[tuple[str, str], ...] = ()
    usual: str = ""
    fault: str = ""
    role: str = ""

    @property
    def title(self) -> str:
        """Its name as words."""
        return label_of(self.role or self.name)

    @property
    def chosen(self) -> str:
        """What the option is that holds now, where its words are too long for its field."""
        words = dict(self.options).get(self.typed or self.now, "")
        return words if len(words) > FITS_FIELD else ""


@dataclass(frozen=True)
class AskedForm:
    """All that a recipe asks, in the order in which it does.

    Parameters
    ----------
    asks, lengths : tuple of FormField
        What the thing is, and the lengths that seldom change.
    cloths : tuple of FormField
        What each of its fabrics looks like.
    at : mapping of str to FormField
        What every project is asked, by its name in the address.
    """

    asks: tuple[FormField, ...]
    lengths: tuple[FormField, ...]
    cloths: tuple[FormField, ...]
    at: Mapping[str, FormField]

    @property
    def fields(self) -> tuple[FormField, ...]:
        """All that the recipe asks."""
        return (*self.asks, *self.lengths, *self.cloths)


def asked_form(
    recipe: Recipe,
    values: Sequence[str],
    unit: Unit,
    attempt: Attempt | None,
    faults: Sequence[Fault] = (),
    cloths: Sequence[str] = (),
    labelled: Callable[[str], str] = str,
) -> AskedForm:
    """Make the form of a recipe.

    Parameters
    ----------
    recipe : Recipe
    values : sequence of str
        NAME=VALUE each, as typed.
    unit : Unit
        The person's.
    attempt : Attempt or None
        It says what is not typed; None where what is typed is not understood.
    faults : sequence of Fault
        Each stands at the field that it is about.
    cloths : sequence of str
        ROLE=WHAT each, as typed.
    labelled : callable
        A message as it is read beside a form.
    """
    typed = {name: value for name, _, value in (pair.partition("=") for pair in values)}
    sized = attempt.sized if attempt else None
    figures: dict[str, float] = {}
    picked: dict[str, str] = {}
    if sized is not None:
        figures = {one.name: one.value for one in (*sized.sizes, *sized.counts, *sized.lengths)}
        picked = {name: option for name, _, option, _ in sized.choices}
    faulty: dict[str, list[str]] = {}
    for one in faults:
        # What is wrong with one panel stands at the field for all of them.
        at_field = "on" if one.where.startswith("on ") else one.where
        faulty.setdefault(at_field, []).append(
            labelled(sentence(str(replace(one, where="", line=None))))
        )
    known = _Known(typed, unit, figures, faulty)
    file = recipe.file
    asks = [
        *(known.length(name, entry) for name, entry in file.sizes.items()),
        *(
            known.field(
                name,
                FieldSort.COUNT,
                entry.means,
                now=f"{figures.get(name, entry.default):g}",
                least=str(entry.least),
                most=str(entry.most),
            )
            for name, entry in file.counts.items()
        ),
        *(
            known.field(
                name,
                FieldSort.CHOICE,
                entry.means,
                now=picked.get(name, entry.default),
                usual=entry.default,
                options=tuple(
                    (option, english().as_used(text, unit))
                    for option, text in entry.options.items()
                ),
            )
            for name, entry in file.choices.items()
        ),
    ]
    lengths = [known.length(name, one) for name, one in {**file.lengths, **BUILT_IN}.items()]
    mark = known.field(
        RULER_MARK,
        FieldSort.LENGTH,
        RULER_MARK_MEANS,
        now=show(figures[RULER_MARK], unit) if RULER_MARK in figures else "",
    )
    looks = {role_of(one): one.partition("=")[2].strip() for one in cloths}
    fabrics = [
        FormField(
            name=f"cloth-{role}",
            key=CLOTH,
            sort=FieldSort.CLOTH,
            means="a colour by its name or code, or a picture of it",
            typed=looks.get(role, ""),
            now="",
            fault=_SPACE.join(faulty.get(f"cloth {role}", ())),
            role=role,
        )
        for role in fabric_roles(file)
    ]
    at = {
        name: FormField(
            name=f"at-{name}",  # no name of a recipe has a hyphen
            key=name,
            sort=FieldSort.WORDS,
            means=means,
            typed="",
            now="",
            fault=_SPACE.join(faulty.get(name, ())),
        )
        for name, means in OF_EVERY_PROJECT.items()
    }
    return AskedForm(tuple(asks), (*lengths, mark), tuple(fabrics), at)


#: What it joins, markup or not, stays that.
_SPACE = Markup(" ")


def asked_names(recipe: Recipe) -> tuple[str, ...]:
    """What a recipe asks, by the names that it has for it; its fabrics have no name."""
    file = recipe.file
    return (*file.sizes, *file.counts, *file.choices, *file.lengths, *BUILT_IN, RULER_MARK)


@dataclass(frozen=True)
class _Known:
    typed: Mapping[str, str]
    unit: Unit
    figures: Mapping[str, float]
    told: Mapping[str, Sequence[str]]

    def length(self, name: str, entry: AskedSize | Length) -> FormField:
        value = self.figures.get(name, entry.default.length)
        return self.field(
            name,
            FieldSort.LENGTH,
            entry.means,
            now="" if value is None else show(value, self.unit),
            least="" if entry.least is None else show(entry.least, self.unit),
            most="" if entry.most is None else show(entry.most, self.unit),
        )

    def field(
        self,
        name: str,
        sort: FieldSort,
        means: str,
        *,
        now: str,
        least: str = "",
        most: str = "",
        options: tuple[tuple[str, str], ...] = (),
        usual: str = "",
    ) -> FormField:
        return FormField(
            name=name,
            key=f"{OWN}{name}",
            sort=sort,
            means=english().as_used(means, self.unit),
            typed=self.typed.get(name, ""),
            now=now,
            least=least,
            most=most,
            options=options,
            usual=usual,
            fault=_SPACE.join(self.told.get(name, ())),
        )
