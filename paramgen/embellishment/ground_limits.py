"""How far stitching for looks keeps from all else, in one place, with where it comes from."""

#: From a seam, where nothing is to end in the allowance, mm: a seam turned and pressed takes up a
#: little, and a foot's edge beside it is a quarter inch (common practice, no source; less than that
#: quarter inch, so that rows beside a seam are not missed).
CLEAR_OF_SEAM = 4.0
#: From a raw edge, mm: nearer than 3 mm a line does not hold, and tears out (common practice, no
#: source); half a millimetre more, as cloth is not cut truer.
CLEAR_OF_RAW_EDGE = 3.5
#: From a fold or a hem of the panel, mm: it is a mouth, or lies along a zip, and is stitched beside
#: (from memory).
CLEAR_OF_FOLD = 5.0
#: From the fold that the finished thing is folded along, mm: stitches in it crack (from memory).
CLEAR_OF_FINISHED_FOLD = 3.0
#: From the middle of a zip, besides half its coil, mm: foot and slider (from memory).
CLEAR_OF_COIL = 6.0
#: From the rim of a snap or another thing set in, where the recipe gives it no clearance of its
#: own, mm (from memory).
CLEAR_OF_HARDWARE = 3.0
#: From other stitching that is seen, mm (from memory).
CLEAR_OF_STITCHING = 3.0
#: From a strip of tape that is still on, mm: the needle gums up (from memory).
CLEAR_OF_TAPE = 1.0
#: Past the turning gap's ends nothing runs out for so far, mm: the tab there is folded in.
CLEAR_OF_GAP = 5.0
#: So far past the seam line a line may run out into the allowance, mm: past the tack-down that is
#: 2 mm outside it, and far enough to be held by the seam when it is cut off (from memory).
RUNS_OUT = 5.0
#: Batting is cut so far inside the seam, and clear of a zip's tape, mm (common practice, no
#: source).
INSIDE_SEAM = 1.0
#: So much of a panel must be seen for anything to be stitched on it, mm².
SEEN_AT_ALL = 100.0
#: What lies under a panel over no more than this is only at its edge, mm².
UNDER_AT_ALL = 40.0
#: Curves of the ground are simplified by no more than this, mm: a turn of 3 mm radius has no
#: corners then.
CURVE = 0.004
