"""The finished thing as a solid: panels that hang together at hinges, with their true thickness.

It is a tree of panels, each joined to its parent along one straight line, at an angle that goes
from open to closed: the parts of a wallet, a tab that goes round its edge, and as well walls that
stand on a bottom (`solid_model.py`). From the finished thing follow the panels (`solid_of.py`), in
which order and to which side they fold and what comes to lie between them (`hung_parts.py`); what
stands on a bottom of its own has the panels of a wedge (`stood_on_bottom.py`). From
how far it is closed and how far in the things are that it holds, where everything stands
(`posed.py`); from where it is looked at, what lies before what (`looked_at.py`).

Coordinates are those of the hoop, open and flat: x right, y down, and z towards the hoop's front.
A panel is as thick as its plies where most of them lie, clear of the allowances turned in at its
edge, in the middle of the range that each ply has; what stands thicker than that, as the edge does,
is not shown.
"""
