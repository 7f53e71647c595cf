"""Every limit the rehearsal judges by, in one place, with where it comes from."""

#: A line nearer than this to a raw edge does not hold, mm (common practice, no source).
HOLD = 3.0
#: A line that runs so near an edge for no longer than this only crosses it, mm.
CROSSING = 10.0
#: A raw edge farther than this from any line that holds it hangs loose, mm (from memory).
LOOSE = 15.0
#: Least allowance outside the seam after trimming, mm: 1/8 in, less what a ruler cannot show.
#: Trimming to 1/8-1/4 in: Apparel: Design, Textiles & Construction, 2012, ch. 26.
ALLOWANCE = 3.0
#: Least left outside the last line of raw-edge goods, mm (from memory).
RAW_EDGE = 2.0
#: Areas smaller than this show nothing, mm².
SPECK = 4.0
#: What is shut in and no wider than this holds nothing, mm: below a floor, beside an edge (from
#: memory: a bank card and a key are wider).
STRIP = 12.0
#: A strip of stabiliser no wider than this keeps nothing shut: beside a seam it comes out with the
#: seam's own, and in the lip between a fold and its stitching it is in no way, mm (from memory).
LIP = 5.0
#: The needle keeps so far from zip stops and slider, mm (common practice, no source).
STOP_CLEAR = 6.0
#: A gap for the coil wider than the coil by more than this gapes, mm (from memory).
COIL_GAPES = 8.0
#: Least turning gap, mm, or this share of the shortest side where that is less (from memory).
TURNING_GAP, TURNING_SHARE = 50.0, 0.4
#: Pieces that lap by so much keep what lies behind them out of sight, mm (from memory).
LAP_HIDES = 20.0
#: An edge that is trimmed no farther than this outside a zigzag is overcast by it, mm: so much is
#: left for the scissors (common practice, no source).
TRIMMED_CLEAR = 1.5
#: What lies so near to a corner of the seam, in times of the allowance left, is cut off with the
#: corner or folded in there, and is not overcast (from memory).
CORNER_CUT_OFF = 2.0
#: An edge shorter than this share of the whole only cuts off a corner.
CORNER_CUT = 0.2
#: A turning gap keeps so far from a corner, mm, and bends by no more than this, degrees
#: (from memory).
GAP_CLEAR, GAP_BEND = 10.0, 75.0
#: A corner that turns by no more than this, degrees, is a blunt one, whose allowance lies nearly
#: flat: there a gap may end so near, mm (from memory).
BLUNT, BLUNT_CLEAR = 75.0, 5.0
#: A stack may not change by more than this many layers within so far, mm (from memory).
JUMP, JUMP_WITHIN = 3, 3.0
#: So much of a placement mark must be seen once the piece lies there, mm (from memory).
MARK_SHOWS = 2.0
#: A mark belongs to an edge no farther from it than this, and can be seen so far under it, as
#: cloth is not cut nor laid truer, mm (from memory).
MARK_MEETS, MARK_AT_EDGE = 0.2, 0.3
#: Stitches that one light tear-away sheet carries (common practice, no source).
STITCHES_A_SHEET = 12_000
#: From so many layers on a line is thick (from memory).
THICK = 8
#: So many penetrations within so far of one of them cut the cloth, mm (from memory).
CROWD, CROWD_WITHIN = 4, 0.3
#: So many penetrations a square millimetre, over a square of so many millimetres, are too dense:
#: thread lies on thread, and the needle is turned aside or breaks. A fill of rows 0.4 mm apart and
#: stitches of 4 mm has 0.6; a satin with a point each 0.4 mm on either side 1.7 if it is 3 mm wide,
#: and 5 if it is 1 mm wide and nothing is beside it but more of the same (from memory).
DENSE, DENSE_OVER = 4.5, 4.0
#: Needle to suggest by the most layers it goes through: metric / second number. The pair:
#: metric = (number - 8) * 5 + 60 below 19; which for how many layers: from memory.
NEEDLES = ((4, "80/12"), (8, "90/14"), (12, "100/16"), (99, "110/18"))
#: No larger one in the hoop: a thicker blade is not what the hook of an embroidery unit at home is
#: set for, and through stabiliser its holes, close together, tear (from memory).
LARGEST_IN_HOOP = "100/16"


def needle_for(layers: int, least: str = "", *, in_hoop: bool = True) -> str:
    """Needle to suggest for so many layers.

    Parameters
    ----------
    layers : int
    least : str
        The finest that goes through what is sewn; empty if any does.
    in_hoop : bool
        Whether it is for an embroidery machine, and not for a sewing machine.

    Examples
    --------
    >>> needle_for(6), needle_for(18), needle_for(18, in_hoop=False), needle_for(2, "90/14")
    ('90/14', '100/16', '110/18', '90/14')
    """
    size = max(next(size for most, size in NEEDLES if layers <= most), least, key=blade)
    return min(size, LARGEST_IN_HOOP, key=blade) if in_hoop else size


def blade(needle: str) -> int:
    """Metric number of a needle, 100 times the diameter of its blade in mm; 0 of none.

    Examples
    --------
    >>> blade("90/14"), blade("")
    (90, 0)
    """
    return int(needle.partition("/")[0] or 0)


def sheets_for(stitches: int) -> int:
    """Sheets of light tear-away stabiliser that carry so many stitches.

    >>> sheets_for(12_000), sheets_for(12_001)
    (1, 2)
    """
    return max(1, -(-stitches // STITCHES_A_SHEET))
