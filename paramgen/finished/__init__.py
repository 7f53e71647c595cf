"""The finished thing: where hands put the parts after the last stitch, in plain millimetres.

It is a book. Which spaces are joined says what can be reached, not where the parts lie. What lies
between the two right sides and is bound only at the rim is a flap, and turning keeps the order in
which flaps leave the seam; from that follow the plies at every place (`finished_thing.py`), and all
else in the room reads those. A flap that a recipe says nothing of stays where it was laid. A line
that goes through a flap inside the seam sews it to a wall: top-stitched on purpose it then belongs
to that wall.

An estimate has a range and does not refuse alone: thickness of a ply, reach of a tool, the slider
of a zip. What fails over all of it cannot be made, what fails at one end is told. A wallet that is
known to be made and to work (common practice, no source) must come out as makeable; a test holds it
to that.
"""
