"""Several copies of a project in one hooping.

As no copy meets another (`clearance.py`), one is rehearsed for all; a test rehearses all of them
together. Copies with sheets of their own are laid out as rectangles, each round all that is laid,
taped and cut of one, 6 mm apart to be cut apart; only needle points must lie in the field, so they
reach out of it at its edges. In rows where so many fit so, upright if they can, else turned, else
mixed. What is said of the most there could be is the least of several published bounds.

On a sheet over all copies a copy is a shape, what it claims (`claimed_area.py`): rows come first,
then rows whose ends are half-turned, then shapes that nest. Where the grain minds, none lies turned
by 90° beside others. The first copy never lies half-turned, as it stands for all. Where more fit
with every piece for each, that is taken.
"""
