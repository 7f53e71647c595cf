"""What is asked for on panels and must not be, each file beside what must be said of it.

A file of `tests/specimens/embellishments/` says why it is wrong. Of a `recipe` that is laid out it
has what is typed `on` its panels (a motif in it has `motif_runs` of one stitch, `motif_stitch`
long, mm), or `[[embellishments]]` as they stand in the recipe, and in order
every `[[change]]` of the recipe: a text to `find` and another to `put`, or a step to `drop`. Then
come all of `[[finds]]` about what is on its panels, by code and piece. A file whose name begins
with `typed-` has what is typed and the `faults` in it as a person reads them; `on_a_page` if it
comes from a page in the browser; `[files]` by their names, in hexadecimal figures.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from flat_recipe import flat_text

from paramgen.embellishment.motif_stitches import MotifStop, about_its_middle
from paramgen.embellishment.read_embellishment import embellishments_asked
from paramgen.layout.lay_out import lay_out
from paramgen.recipe.read_recipe import Recipe, read_recipe
from paramgen.sizing import size
from paramgen.vocabulary.project import Project
from paramgen.vocabulary.unit import Unit

FOLDER = Path(__file__).parent / "embellishments"


@dataclass(frozen=True)
class BadEmbellishment:
    """One of the files."""

    name: str
    told: Mapping[str, Any]

    @property
    def finds(self) -> list[tuple[str, str]]:
        """Code with its variant, and piece."""
        return [(one["code"], one["piece"]) for one in self.told.get("finds", [])]

    @property
    def recipe(self) -> Recipe:
        """The recipe with what is asked for on it."""
        text = flat_text(self.told["recipe"])
        for change in self.told.get("change", []):
            assert text.count(change["find"]) == 1, change["find"]
            text = text.replace(change["find"], change["put"])
        for one in self.told.get("embellishments", []):
            text += f"\n[[embellishments]]\non = \"{one['on']}\"\nwork = '''{one['work']}'''\n"
        recipe = read_recipe(text, name=self.told["recipe"], source=self.name)
        asked = embellishments_asked(self.told.get("on", ""))
        return replace(recipe, on=tuple(self._with_motif(one) for one in asked))

    def _with_motif(self, one: Any) -> Any:
        """What is asked for, and so many runs of a stitch each if its motif has so many."""
        wide = self.told.get("motif_stitch", 2.0)
        runs = [np.array([[0.0, at], [wide, at]]) for at in range(self.told.get("motif_runs", 0))]
        if not runs:
            return one
        return replace(one, motif=about_its_middle("many.dst", "", [MotifStop("", tuple(runs))]))

    @property
    def project(self) -> Project:
        """It laid out."""
        return lay_out(size(self.recipe, self.told.get("asked", {}), unit=Unit.MM))


BAD_EMBELLISHMENTS = [
    BadEmbellishment(path.stem, tomllib.loads(path.read_text(encoding="utf-8")))
    for path in sorted(FOLDER.glob("*.toml"))
]
