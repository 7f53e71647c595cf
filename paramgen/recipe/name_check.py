"""Do the names in a recipe file hang together? Every fault of one file, found in one go."""

from collections.abc import Iterator, Sequence
from keyword import iskeyword

from pydantic import BaseModel

from paramgen.nearest_word import did_you_mean
from paramgen.recipe.arithmetic import Formula, FormulaError
from paramgen.recipe.built_in_lengths import LEAST_MARK, MOST_MARK, NAMES, ply_names
from paramgen.recipe.formula_work import FUNCTIONS
from paramgen.recipe.key_lines import Loc
from paramgen.recipe.language import (
    FOLD_EDGES,
    FinishTable,
    FoldTable,
    LayTable,
    RecipeFile,
    RepeatValues,
    StepGroup,
    StepTable,
    condition_of,
    piece_of,
)
from paramgen.recipe.terms import Default, Reference, Sentence, ShownMeasure, TitleOf
from paramgen.reference.materials import listed_materials, of_sort
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.vocabulary.kinds import Act, FoldKind, NotionSort

#: What is done to pieces of fabric alone.
_OF_FABRIC = {
    "fuse the interfacing": "interfacing is fused to pieces of fabric",
    "edge-stitch": "only pieces of fabric are edge-stitched",
}


#: Notions that come by the length and are sewn in.
_STRIPS = ("zip", "ribbon", "elastic")
#: What a ribbon must be to be folded.
_FOLDED = (
    'For a loop make it a piece: under pieces, with fabric = "ribbon", width, height, two_sided = '
    'true, frays = false and folds = [{ fold = "half", along = "height" }].'
)


@dataclass(frozen=True)
class Clash:
    """A fault with its place in the file, as a path of keys.

    What only is too much is told last: it may be because of another fault.
    """

    loc: Loc
    message: str
    hint: str = ""
    last: bool = False


@dataclass(frozen=True)
class TermInPlace:
    """A formula or reference where it stands, with the repeat names it may use.

    If it says how often something is repeated, `index` is the name that counts.
    """

    loc: Loc
    term: Formula | Reference
    repeats: frozenset[str] = frozenset()
    index: str = ""


def clashes(file: RecipeFile) -> Iterator[Clash]:
    """Find everything wrong with the names in a recipe, kind by kind."""
    uses = list(terms_in(file))
    yield from _limits(file)
    if unknown := list(_fabrics(file)):
        yield from unknown
        return
    yield from _double_names(file, uses)
    yield from _order(file)
    yield from _formulas(file, uses)
    yield from _references(file, uses)
    yield from _twice(file)
    yield from _needed(file)
    yield from _prepared(file)
    yield from _fused(file)
    yield from _lays(file)
    yield from _flaps(file)
    yield from _boxed(file)
    yield from _unused(file, uses)


def terms_in(
    thing: object, loc: Loc = (), repeats: frozenset[str] = frozenset()
) -> Iterator[TermInPlace]:
    """Walk over every formula and reference of a table, in order."""
    match thing:
        case Formula():
            yield TermInPlace(loc, thing, repeats)
        case Sentence():
            for part in thing.parts:
                yield from terms_in(part, loc, repeats)
        case TitleOf():
            yield from terms_in(thing.thing, loc, repeats)
        case Default() | ShownMeasure():
            yield from terms_in(thing.formula, loc, repeats)
        case Reference():
            yield TermInPlace(loc, thing, repeats)
            yield from terms_in(thing.index, loc, repeats)
        case BaseModel():
            repeat = getattr(thing, "repeat", None) or {}
            for name, times in repeat.items():
                yield TermInPlace((*loc, "repeat", name), times, repeats, name)
            for key, info in type(thing).model_fields.items():
                if key != "repeat":
                    place = (*loc, info.alias or key)
                    yield from terms_in(getattr(thing, key), place, repeats | set(repeat))
        case dict():
            for key, value in thing.items():
                yield from terms_in(value, (*loc, key), repeats)
        case list():
            for index, value in enumerate(thing):
                yield from terms_in(value, (*loc, index), repeats)
        case _:
            pass


def _number_tables(file: RecipeFile) -> dict[str, dict[str, object]]:
    return {
        "sizes": dict(file.sizes),
        "counts": dict(file.counts),
        "choices": dict(file.choices),
        "lengths": dict(file.lengths),
        "values": dict(file.values),
    }


def _limits(file: RecipeFile) -> Iterator[Clash]:
    if file.ruler_mark is not None and not LEAST_MARK <= file.ruler_mark <= MOST_MARK:
        yield Clash(("ruler_mark",), f"a ruler mark is from {LEAST_MARK:g} to {MOST_MARK:g} mm")
    for table, entries in (("sizes", file.sizes), ("lengths", file.lengths)):
        for name, entry in entries.items():
            low = entry.least if entry.least is not None else 0.0
            high = entry.most if entry.most is not None else float("inf")
            fixed = entry.default.length
            if low > high:
                yield Clash((table, name, "least"), "the least is more than the most")
            elif fixed is not None and not low <= fixed <= high:
                ends = ("less than the least", low), ("more than the most", high)
                is_so, end = ends[fixed > high]
                text = f"the default, {fixed:g} mm, is {is_so}, {end:g} mm"
                yield Clash((table, name, "default"), text)
            if table == "sizes" and low <= 0:
                yield Clash((table, name, "least"), "a size must be more than nothing")
    for name, count in file.counts.items():
        if not 0 <= count.least <= count.default <= count.most:
            yield Clash(("counts", name), "least, default and most are not in order")
    for name, choice in file.choices.items():
        if choice.default not in choice.options:
            yield Clash(
                ("choices", name, "default"),
                f"`{choice.default}` is not one of the options {', '.join(choice.options)}",
                did_you_mean(choice.default, choice.options),
            )
        for word, meant in choice.also.items():
            yield from _other_word(file, ("choices", name, "also", word), word, meant)


def _other_word(file: RecipeFile, loc: Loc, word: str, meant: str) -> Iterator[Clash]:
    """Another word for an option must not be one itself, and lead to what there is."""
    if word in file.choices[str(loc[1])].options:
        yield Clash(loc, f"`{word}` is an option itself")
    for one in meant.split():
        name, _, value = one.partition("=")
        options = file.choices[name].options if name in file.choices else None
        count = file.counts.get(name)
        known = (options is not None and value in options) or (
            count is not None and value.isdecimal() and count.least <= int(value) <= count.most
        )
        if not known:
            message = f"`{one}` asks for nothing that this recipe has"
            yield Clash(loc, message, "Write CHOICE=OPTION or COUNT=NUMBER, spaces between them.")


def _fabrics(file: RecipeFile) -> Iterator[Clash]:
    """Materials that are not listed, and fabrics that nothing is cut from."""
    used = {piece.fabric for piece in file.pieces.values()}
    for role, table in file.fabrics.items():
        if role not in used:
            hint = did_you_mean(role, used)
            yield Clash(("fabrics", role), f"no piece is cut from the fabric `{role}`", hint)
        for key, sorts in (
            ("kind", ("fabric", "batting", "trim")),
            ("interfacing", ("interfacing",)),
        ):
            known, name = of_sort(*sorts), getattr(table, key)
            if name is not None and name not in known:
                listed = name in listed_materials()
                what = f"`{name}` is no {sorts[0]}" if listed else f"no material `{name}` is listed"
                hint = did_you_mean(name, known) or f"There are {', '.join(known)}."
                yield Clash(("fabrics", role, key), what, hint)


def _double_names(file: RecipeFile, uses: list[TermInPlace]) -> Iterator[Clash]:
    seen: dict[str, str] = dict.fromkeys(NAMES, "every recipe")
    seen |= dict.fromkeys(ply_names(file.fabrics), "fabrics")
    for table, entries in _number_tables(file).items():
        for name in entries:
            if name in seen:
                yield Clash((table, name), f"`{name}` is named already in {seen[name]}")
            seen.setdefault(name, table)
            if iskeyword(name) or name in FUNCTIONS:
                yield Clash((table, name), f"`{name}` is a word of arithmetic: take another name")
    for name in file.notions:
        if name in file.pieces:
            yield Clash(("notions", name), f"`{name}` is named already in pieces")
    for use in uses:
        if use.index in seen:
            yield Clash(use.loc, f"`{use.index}` is named already in {seen[use.index]}")


def _order(file: RecipeFile) -> Iterator[Clash]:
    """Names used before they are defined, and circles of definitions."""
    tables = _number_tables(file)
    needs: dict[Loc, set[str]] = {
        (table, name): {
            used
            for use in terms_in(entry)
            if isinstance(use.term, Formula)
            for used in use.term.names - use.repeats
        }
        for table in ("sizes", "lengths", "values")  # as they are worked out
        for name, entry in tables[table].items()
    }
    yield from _early(needs, {*_given(file), *file.counts, *file.choices})
    outlines: dict[Loc, set[str]] = {
        ("outlines", name): {
            use.term.name
            for use in terms_in(cases)
            if isinstance(use.term, Reference) and use.term.kind == "outlines"
        }
        for name, cases in file.outlines.items()
    }
    yield from _early(outlines, set())


def _early(needs: dict[Loc, set[str]], known: set[str]) -> Iterator[Clash]:
    """What uses a name before it is defined; each circle once."""
    tables = {str(name): table for table, name in reversed(needs)}
    ways = {str(name): used for (_, name), used in reversed(needs.items())}
    defined = set(known)
    rings: list[set[str]] = []
    for (table, name), used in needs.items():
        for other in sorted(used & set(tables) - defined):
            ring = _circle(str(name), other, ways)
            if not ring:
                hint = f"Move `{other}` above `{name}`."
                if tables[other] != table:
                    hint = "Sizes are worked out first, then lengths, then values."
                yield Clash((table, name), f"uses `{other}` before it is defined", hint)
            elif set(ring) not in rings:
                rings.append(set(ring))
                yield Clash((table, name), f"goes round in a circle: {' → '.join(ring)}")
        defined.add(str(name))


def _circle(name: str, through: str, needs: dict[str, set[str]]) -> list[str]:
    """The way from `name` through `through` back to `name`; empty if there is none."""
    ways = [[name, through]] if through != name else [[name, name]]
    seen = {through}
    while ways:
        way = ways.pop()
        if way[-1] == name:
            return way
        for other in sorted(needs.get(way[-1], set())):
            if other == name or other not in seen:
                seen.add(other)
                ways.append([*way, other])
    return []


def _given(file: RecipeFile) -> set[str]:
    """Names that formulas may use and no table of numbers defines."""
    return {*NAMES, *ply_names(file.fabrics)}


def _formulas(file: RecipeFile, uses: list[TermInPlace]) -> Iterator[Clash]:
    names = {name for entries in _number_tables(file).values() for name in entries}
    names |= _given(file)
    repeated = {name for name, value in file.values.items() if isinstance(value, RepeatValues)}
    for use in uses:
        if not isinstance(use.term, Formula):
            continue
        for name in sorted(use.term.names - names - use.repeats):
            message = f"`{use.term.text}` uses `{name}`, which is not defined here"
            if use.term.text == name:
                message = f"`{name}` is not defined here"
            yield Clash(use.loc, message, did_you_mean(name, names | use.repeats))
        if not use.term.names:
            try:
                use.term.value({})
            except FormulaError as problem:
                yield Clash(use.loc, str(problem))
        for name in sorted(use.term.indexed & names - repeated):
            yield Clash(use.loc, f"`{name}` is one value: leave out the [ ]")
        for name in sorted((use.term.names - use.term.indexed) & repeated):
            yield Clash(use.loc, f"`{name}` has a value for each repeat: say which, `{name}[k]`")
        for name, text in use.term.compared:
            choice = file.choices.get(name)
            if choice is None:
                if name in names | use.repeats:
                    yield Clash(use.loc, f"`{name}` is a number, not a choice; '{text}' is a text")
            elif text not in choice.options:
                yield Clash(
                    use.loc,
                    f"'{text}' is not an option of `{name}` ({', '.join(choice.options)})",
                    did_you_mean(text, choice.options),
                )
        compared = {name for name, _ in use.term.compared} | {use.term.text}
        for name in sorted(use.term.names & set(file.choices) - compared):
            options = ", ".join(f"'{option}'" for option in file.choices[name].options)
            yield Clash(use.loc, f"`{name}` is a choice, it can only be compared with {options}")


def _named_tables(file: RecipeFile) -> dict[str, dict[str, bool]]:
    """What references may name, and whether it is repeated."""
    pieces = {name: piece.repeat is not None for name, piece in file.pieces.items()}
    return {
        "pieces": pieces,
        "laid": pieces | dict.fromkeys(file.notions, False),
        "flaps": pieces | dict.fromkeys(file.notions, False),
        "lines": {name: line.repeat is not None for name, line in file.lines.items()},
        "outlines": {
            name: any(case.repeat is not None for case in cases)
            for name, cases in file.outlines.items()
        },
        "holds": dict.fromkeys(file.holds, False),
    }


def _references(file: RecipeFile, uses: list[TermInPlace]) -> Iterator[Clash]:
    tables = _named_tables(file)
    for use in uses:
        if not isinstance(use.term, Reference):
            continue
        ref, table = use.term, tables[use.term.kind]
        words = "pieces and notions" if ref.kind in ("laid", "flaps") else ref.kind
        if ref.name not in table:
            yield Clash(use.loc, f"no `{ref.name}` in {words}", did_you_mean(ref.name, table))
        elif ref.index and not table[ref.name]:
            yield Clash(use.loc, f"`{ref.name}` is not repeated: leave out the [ ]")
        elif table[ref.name] and not ref.index and ref.kind not in ("lines", "flaps"):
            yield Clash(use.loc, f"`{ref.name}` is repeated: say which, `{ref.name}[k]`")


def _twice(file: RecipeFile) -> Iterator[Clash]:
    """Outlines that a line is kept within, or clear of, named again in the same list."""
    for name, line in file.lines.items():
        for key in ("within", "clear_of"):
            seen: set[tuple[str, str]] = set()
            for index, ref in enumerate(getattr(line, key)):
                same = ref.name, ref.index.text if ref.index else ""
                if same in seen:
                    yield Clash(("lines", name, key, index), f"`{ref.name}` stands here already")
                seen.add(same)


def _lays(file: RecipeFile) -> Iterator[Clash]:
    """Folds of laid pieces: said where there is one, and on an edge it can be on."""
    for loc, lay in _laid(file):
        piece, notion = file.pieces.get(lay.piece.name), file.notions.get(lay.piece.name)
        if notion and not (notion.length and notion.width):
            name = lay.piece.name
            yield Clash((*loc, "piece"), f"`{name}` is laid, so it needs a length and a width")
        last = list(_last_folds(piece.folds)) if piece else []
        ways = {fold.along for fold in last if fold}
        edges = [edge for way, pair in FOLD_EDGES.items() if way in ways for edge in pair]
        if lay.fold and notion:
            what = f"`{lay.piece.name}` is a notion and lies flat: only a piece is folded"
            yield Clash((*loc, "fold"), what, _FOLDED)
        elif lay.fold and not ways:
            yield Clash((*loc, "fold"), f"`{lay.piece.name}` has no fold in half and no hem")
        elif ways and not lay.fold and all(fold.fold is FoldKind.HALF for fold in last if fold):
            yield Clash(loc, f"`{lay.piece.name}` is folded: say where its fold lies (fold)")
        elif lay.fold and lay.fold not in edges:
            yield Clash((*loc, "fold"), f"its fold can lie at {' or '.join(edges)}")
        for keys in (("left", "right", "middle"), ("top", "bottom", "centre")):
            given = [key for key in keys if getattr(lay, key) is not None]
            if len(given) > 1:
                yield Clash(loc, f"{' and '.join(given)} cannot both say where it lies")


def _last_folds(folds: Sequence[FoldTable]) -> Iterator[FoldTable | None]:
    """Every fold that may be the one that a step lays at an edge; None where there may be none.

    It is the last fold if that is a hem that says no edge, else the last in half: which, the
    choices may settle.
    """
    hems = True
    for fold in reversed(folds):
        by_edge = fold.fold is FoldKind.HEM and fold.edge is not None
        if fold.fold is FoldKind.HALF or (fold.fold is FoldKind.HEM and hems and not by_edge):
            yield fold
            if fold.when is None:
                return
        hems = hems and fold.when is not None
    yield None


def _needed(file: RecipeFile) -> Iterator[Clash]:
    """Notions for something that no step does, and strips that no step lays or needs."""
    done = {step.do for _, step in _steps(file)}
    laid = {lay.piece.name for _, lay in _laid(file)}
    for name, notion in file.notions.items():
        strip = notion.sort in _STRIPS and notion.length and notion.width
        if strip and not notion.needed and name not in laid:
            hint = "Lay it in a step, or say what the first step does that needs it (needed)."
            hint += f" {_FOLDED}" if notion.sort is not NotionSort.ZIP else ""
            yield Clash(("notions", name), f"no step lays the {notion.sort} `{name}`", hint)
        if notion.needed and notion.needed not in done:
            yield Clash(("notions", name, "needed"), f"no step is there to {notion.needed}")


def _prepared(file: RecipeFile) -> Iterator[Clash]:
    """Notions that are to be fused or edge-stitched, as only what is cut from fabric is."""
    for base, step in _steps(file):
        why = _OF_FABRIC.get(step.do or "")
        for number, ref in enumerate(step.pieces if why else ()):
            if ref.name in file.notions and ref.name not in file.pieces:
                yield Clash((*base, "pieces", number), f"`{ref.name}` is a notion: {why}")


def _fused(file: RecipeFile) -> Iterator[Clash]:
    """Patches on a piece that no step fuses anything to."""
    fused = [ref for _, step in _steps(file) if step.do == Act.FUSE for ref in step.pieces]
    for name, notion in file.notions.items():
        for index, patch in enumerate(notion.fused_to if fused else ()):
            if patch.piece.name in file.pieces and not any(_same(patch.piece, r) for r in fused):
                yield Clash(
                    ("notions", name, "fused_to", index, "piece"),
                    f"`{patch.piece}` is in no step to {Act.FUSE}",
                    "Name it there (pieces).",
                )


def _flaps(file: RecipeFile) -> Iterator[Clash]:
    """Flaps of the finished thing: each laid, said once, and neither of the two walls."""
    laid = {lay.piece.name for _, lay in _laid(file)}
    for number, finish in enumerate(file.finish):
        yield from _flaps_of(finish, ("finish", number), laid, set(file.notions))


def _flaps_of(finish: FinishTable, base: Loc, laid: set[str], notions: set[str]) -> Iterator[Clash]:
    said: list[tuple[Reference, str]] = []
    for key in ("pulled_over", "stands_out"):
        for index, entry in enumerate(getattr(finish, key)):
            loc: Loc = (*base, key, index)
            ref, sometimes = piece_of(entry), condition_of(entry) is not None
            # The choices may have a piece be the one or the other.
            walls = [
                piece_of(wall)
                for wall in finish.between
                if not (sometimes and condition_of(wall) is not None)
            ]
            if any(_same(ref, wall) for wall in walls):
                yield Clash(loc, f"`{ref}` is one of those that it is turned out between")
            elif ref.name not in laid and ref.name in notions:
                yield Clash(loc, f"no step lays `{ref.name}`", did_you_mean(ref.name, laid))
            before = next((where for other, where in said if _same(ref, other)), None)
            if before:
                yield Clash(loc, f"`{ref}` is named already in {before}")
            said.append((ref, key))


def _boxed(file: RecipeFile) -> Iterator[Clash]:
    """Corners that are sewn across in no step, and a step to do so where there are none."""
    across = [base for base, step in _steps(file) if step.do == Act.BOX]
    boxed = next((number for number, one in enumerate(file.finish) if one.boxed), None)
    if boxed is not None and not across:
        hint = f'Write a step with do = "{Act.BOX}".'
        yield Clash(("finish", boxed, "boxed"), f"no step is there to {Act.BOX}", hint)
    elif across and boxed is None:
        hint = "Say under finish which edge has them (boxed), and how deep they make it (depth)."
        yield Clash((*across[0], "do"), "there are no corners to sew across", hint)


def _same(one: Reference, other: Reference) -> bool:
    """Whether two references name a piece in common: the bare name of one means all its turns."""
    if one.name != other.name:
        return False
    return one.index is None or other.index is None or one.index.text == other.index.text


def _laid(file: RecipeFile) -> Iterator[tuple[Loc, LayTable]]:
    for base, step in _steps(file):
        for number, lay in enumerate(step.lay):
            yield (*base, "lay", number), lay


def _steps(file: RecipeFile) -> Iterator[tuple[Loc, StepTable]]:
    for index, entry in enumerate(file.steps):
        if isinstance(entry, StepGroup):
            for place, step in enumerate(entry.steps):
                yield ("steps", index, "steps", place), step
        else:
            yield ("steps", index), entry


def _unused(file: RecipeFile, uses: list[TermInPlace]) -> Iterator[Clash]:
    used = {name for use in uses if isinstance(use.term, Formula) for name in use.term.names}
    for table, entries in _number_tables(file).items():
        for name in entries:
            if name not in used:
                hint = "Use it in a formula, or take it out."
                yield Clash((table, name), f"`{name}` is never used", hint, last=True)
    laid = {
        use.term.name
        for use in uses
        if isinstance(use.term, Reference) and use.term.kind == "laid" and use.loc[0] == "steps"
    }
    # A binding is folded over an edge once the work is out of the hoop.
    laid |= {ref.name for _, step in _steps(file) if step.do == Act.BIND for ref in step.pieces}
    laid |= {one.binding.name for one in file.finish if one.binding is not None}
    for name in file.pieces:
        if name not in laid:
            hint = "Lay it in a step, or take it out."
            yield Clash(("pieces", name), f"no step lays the piece `{name}`", hint, last=True)
    referred = {(use.term.kind, use.term.name) for use in uses if isinstance(use.term, Reference)}
    for name in file.lines:
        if ("lines", name) not in referred:
            hint = "Stitch it in a step, or take it out."
            yield Clash(("lines", name), f"no step stitches the line `{name}`", hint, last=True)
    for name in file.outlines:
        if ("outlines", name) not in referred:
            hint = "Take it out, if nothing is to lie by it."
            yield Clash(("outlines", name), f"the outline `{name}` is never used", hint, last=True)
