"""Stitching on a panel for its looks: quilting, edge lines, and what else is asked by name.

A person asks for it on any panel of any recipe (`lower outer=quilting:diagonal,20mm`), or a recipe
does. `kind_options.py` says what may be asked, `read_embellishment.py` reads it, `panel_fitness.py`
says on which panel it can be, `free_ground.py` where there is room, and `embellish.py` works out
the steps. A kind is a module of its own, written down in `listed_kinds.py`;
`embellishment_kind.py` says what it has to give.

Satin is laid on rungs (`satin_rungs.py`, `satin_column.py`), and no more needle points come
together than the cloth bears (`needle_holes.py`). Words, patches and motifs are sewn as drawn.

It grows as trade work does: spacing and stitch length stay, the number of lines follows the panel.
Nothing here knows a recipe: what is asked of is a `Project` as it lies, about the recipe's origin.
"""
