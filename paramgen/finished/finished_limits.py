"""Every limit the finished thing is judged by, in one place, with where it comes from.

What is estimated is a range: only what fails over all of it is refused.
"""

#: A zip or mouth is covered if more of its length than this lies under something, mm.
COVERED = 2.0
#: A needle point lies so far inside the finished edge before its thread shows, mm: two steps of
#: the grid of stitch files.
INSIDE = 0.2
#: A line meant to be seen hides another that runs no farther from it than this, mm: a thread.
UNDER = 0.3
#: A shorter line in sight is a tie-off and no line of thread, mm.
SHOWS = 2.0
#: How far in from an opening pliers for snaps reach, mm, least and most (from memory; it differs
#: by the tool); farther in a small anvil is laid inside and the snap is set from above.
PLIERS = (25.0, 28.0)
#: How far in a hand reaches an anvil, through an opening that lets it in, mm (from memory).
HAND = (100.0, 200.0)
#: An opening that lets in a hand, and one that lets in two fingers, mm (from memory).
HAND_WIDE, FINGERS_WIDE = 80.0, 25.0
#: Hardware of no stated width, mm across: a snap of 10 to 12 mm.
HARDWARE = 12.0
#: Two edges at a gap are one if a line this near outside the seam holds them together, mm.
GAP_EDGE = 3.0
#: Stitched by hand so far inside the edge, a line catches an edge folded in at least this much
#: farther, mm (from memory).
CATCHES = 1.5
#: Thickness under the foot, mm, that is thick at its middle and that is too thick at its least: for
#: an embroidery machine and for a sewing machine at home (from memory: 14 and 16 plies of cotton,
#: and the lift of the foot).
UNDER_EMBROIDERY, UNDER_SEWING = (3.1, 5.0), (3.6, 6.0)
#: Thickness of the closed thing, mm, beyond which no fold of cloth holds it flat (from memory).
CLOSED = 40.0
#: A seam that curves with a radius of less than this, mm, and by more than this in all, degrees, is
#: notched or clipped before it is turned (from memory).
TIGHT, BENDS = 120.0, 20.0
#: What a tab spends on its way round a closed edge beyond the thickness, least and most, mm.
ROUND_THE_EDGE = (1.0, 3.0)
#: No ribbon is wider than this, mm: sold up to 4 in wide, for goods that are sewn in a hoop up to
#: 2 in (from memory).
RIBBON = 51.0
#: Two halves of a snap meet if they are no farther apart than this, mm (from memory).
MEETS = 1.0
#: Sizes of rooms and of what lies in them are compared to this, mm.
HAIR = 0.01
#: What a slider parked at the end takes from the mouth of a zip, least and most, mm (from memory:
#: the body of a slider of size 3 to 5, and what it keeps from the seam).
PARKED_SLIDER = (8.0, 20.0)
#: Part of a slit's length that opens: its ends draw together (common practice, no source).
SLIT_OPENS = 0.95
