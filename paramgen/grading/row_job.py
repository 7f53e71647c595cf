"""A row to make, with all it takes: what it asks for, and what its pack follows from."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from paramgen.grading.row_digest import made_from
from paramgen.grading.rows_to_make import RowToMake
from paramgen.ordering.cloths_asked import fabric_roles, role_of
from paramgen.ordering.order_from_words import hoops_asked
from paramgen.ordering.typed_request import TypedRequest
from paramgen.recipe.read_recipe import Recipe, RecipeSource
from paramgen.reference.hoops import Hoop, find_hoop
from paramgen.vocabulary.cloth import Cloths
from paramgen.vocabulary.findings import InputError
from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True, kw_only=True)
class RowJob:
    """A row to make, with all it takes.

    Parameters
    ----------
    number : int
        Place in the table, from 0.
    folder : Path
        Where its pack goes.
    words : TypedRequest
    source : RecipeSource or None
        The recipe's file as it was found; None if it cannot be read.
    hoops : tuple of Hoop
    papers : bool
    made_from : str
    """

    number: int
    folder: Path
    words: TypedRequest
    source: RecipeSource | None
    hoops: tuple[Hoop, ...]
    papers: bool
    made_from: str


def row_words(row: RowToMake, words: TypedRequest) -> TypedRequest:
    """What a row asks for, with what is asked for all rows where it says nothing itself."""
    return replace(
        words,
        recipe=row.recipe,
        values=[f"{name}={value}" for name, value in row.values],
        hoop=row.hoop or words.hoop,
        more_hoops=() if row.hoop else words.more_hoops,
        unit=row.unit or words.unit,
        margin=row.margin or words.margin,
        copies=row.copies or words.copies,
        title=row.called or words.title,
        holds=row.holds or words.holds,
        on=row.on or words.on,
    )


def of_its_fabrics(words: TypedRequest, recipe: Recipe | None) -> TypedRequest:
    """What is asked for a row, of its own recipe's fabrics alone."""
    roles = fabric_roles(recipe.file) if recipe else ()
    return replace(words, cloths=[one for one in words.cloths if role_of(one) in roles])


def cloths_seen(cloths: Cloths, recipe: Recipe | None) -> Iterator[tuple[str, str]]:
    """What the fabrics of a recipe look like: a picture may change under its name."""
    for role in fabric_roles(recipe.file) if recipe else ():
        if role in cloths:
            yield f"cloth {role}", repr(cloths[role])


def row_options(
    words: TypedRequest, *, papers: bool, left_out: Sequence[str] = ()
) -> tuple[tuple[str, str], ...]:
    """What is asked for all rows and no row can say, as far as files follow from it.

    Parameters
    ----------
    words : TypedRequest
    papers : bool
    left_out : sequence of str
        Papers that cannot be typeset here.
    """
    # What is made without its PDFs is made again where they can be typeset.
    lacking = [("left out", " ".join(left_out))] if papers and left_out else []
    return (
        *lacking,
        ("booklet", words.booklet),
        ("files", words.files),
        ("paper", words.paper),
        ("paper margin", words.paper_margin),
        ("papers", str(papers)),
        ("printed", words.printed),
        ("scale", words.scale),
        ("singly", str(words.singly)),
        ("turn", str(words.may_turn)),
        ("whole pieces", str(words.whole_pieces)),
    )


def row_job(
    number: int,
    row: RowToMake,
    words: TypedRequest,
    *,
    source: RecipeSource | None,
    hoops: tuple[Hoop, ...],
    options: Sequence[tuple[str, str]],
    out: Path,
    papers: bool,
) -> RowJob:
    """Say all that it takes to make a row.

    Parameters
    ----------
    number : int
        Place in the table, from 0.
    row : RowToMake
    words : TypedRequest
        What is asked for all rows.
    source : RecipeSource or None
        Of its recipe.
    hoops : tuple of Hoop
    options : sequence of (name, text)
        As `row_options` says them.
    out : Path
        Where the packs of all rows go.
    papers : bool
    """
    asks = row_words(row, words)
    *several, last = hoops_asked(asks) or [""]
    # Where several are asked in turn, what each of them is counts too.
    fields = [(name, str(_known(name, hoops))) for name in several]
    usual = [("usual unit", asks.usual_unit)] if asks.usual_unit else []
    options = [*options, *fields, *usual]
    whole = replace(
        row,
        hoop=last,
        unit=asks.unit,
        margin=asks.margin,
        copies=asks.copies,
        called=asks.title,
        holds=asks.holds,
        on=asks.on,
    )
    origin = made_from(source.whole if source else "", whole, options, _known(last, hoops))
    return RowJob(
        number=number,
        folder=out / row.folder,
        words=asks,
        source=source,
        hoops=hoops,
        papers=papers,
        made_from=origin,
    )


def _known(typed: str, hoops: tuple[Hoop, ...]) -> Hoop | None:
    try:
        return find_hoop(typed, hoops) if typed.strip() else None
    except InputError:
        return None
