"""Thread in a kit's papers: step by step, in all, as it is sold, beside what is published."""

from paramgen.amounts.lockstitch import USUAL_301, USUAL_BOBBIN, USUAL_NEEDLE
from paramgen.amounts.stitched_thread import StepThread, ThreadTaken, thread_of
from paramgen.kits.kit_section import KitSection, KitTable
from paramgen.kits.kit_thread import CountRange, KitThread, LeastMost, ProjectThread
from paramgen.lengths import INCH
from paramgen.reference.thread_sold import ThreadSold
from paramgen.sentences import number_of
from paramgen.supplies.yards import YARD
from paramgen.vocabulary.unit import Unit

#: From so many on, metres and yards are told whole.
_MANY = 10.0


def thread_section(thread: KitThread, unit: Unit) -> KitSection:
    """What a kit's papers say of thread."""
    sold = thread.sold
    return KitSection(
        name="thread",
        title="Thread",
        says=(
            f"{_buy(thread)} {_sizes(sold)}",
            (
                "Each stitch of a lockstitch (ISO 4915, type 301) takes twice the sum of its "
                "length and the thickness it goes through. That is reckoned stitch by stitch, "
                "through all layers that lie under it and the stabiliser. The range is that of the "
                f"thickness of the materials, of where the threads lock ({_place(sold.lock.least)} "
                f"to {_place(sold.lock.most)}), and of {100 * sold.waste.least:g} to "
                f"{100 * sold.waste.most:g} % for waste."
            ),
            (
                "Steps without a stop are sewn on a sewing machine. What hands sew and the edges "
                "stitched before the hooping are not counted."
            ),
        ),
        tables=(*(_steps(one, sold, unit) for one in thread.projects), _beside(thread, unit)),
    )


def thread_words(mm: LeastMost, unit: Unit) -> str:
    """A range of thread in the person's unit and the other.

    >>> thread_words((1500.0, 2300.0), Unit.MM), thread_words((91_440.0, 182_880.0), Unit.INCH)
    ('1.5 to 2.3 m (1.6 to 2.5 yd)', '100 to 200 yd (91 to 183 m)')
    >>> thread_words((20.0, 40.0), Unit.MM)
    'under 0.1 m (0.1 yd)'
    """
    metres = _range(mm, 1000.0, "m")
    yards = _range(mm, YARD, "yd")
    first, second = (yards, metres) if unit is Unit.INCH else (metres, yards)
    return f"{first} ({second.removeprefix('under ')})"


def _range(mm: LeastMost, one: float, name: str) -> str:
    least, most = (round(length / one, 1) for length in mm)
    if most < 0.1:
        return f"under 0.1 {name}"
    whole = most >= _MANY
    low, high = (f"{round(x)}" if whole else f"{x:g}" for x in (least, most))
    return f"{high} {name}" if low == high else f"{low} to {high} {name}"


def thickness_words(mm: LeastMost, unit: Unit) -> str:
    """A range of thickness, which no ruler shows, in the person's unit and the other.

    >>> thickness_words((0.4, 0.9), Unit.MM), thickness_words((2.54, 2.54), Unit.INCH)
    ('0.4 to 0.9 mm (0.016 to 0.035 in)', '0.1 in (2.5 mm)')
    """
    metric, inches = _thick(mm, 1.0, 1, "mm"), _thick(mm, INCH, 3, "in")
    return f"{inches} ({metric})" if unit is Unit.INCH else f"{metric} ({inches})"


def _thick(mm: LeastMost, one: float, digits: int, name: str) -> str:
    low, high = (f"{round(length / one, digits):g}" for length in mm)
    return f"{high} {name}" if low == high else f"{low} to {high} {name}"


def count_words(many: CountRange, what: str) -> str:
    """How many there are of something, least to most.

    >>> count_words((1, 1), "spool"), count_words((2, 3), "bobbin")
    ('1 spool', '2 to 3 bobbins')
    """
    least, most = many
    return number_of(most, what) if least == most else f"{least} to {number_of(most, what)}"


def _buy(thread: KitThread) -> str:
    same = thread.sold.bobbin.same
    spools = f"{count_words(thread.spools, 'spool')} of {thread.sold.needle.spool:g} m"
    own = f"{count_words(thread.bobbin_spools, 'spool')} of {thread.sold.bobbin.spool:g} m"
    of_it = "for needle and bobbin together" if same else "for the needle"
    other = "" if same else f", {own} for the bobbin"
    full = f"{thread.sold.bobbin.length:.0f} m"
    wind = f"{count_words(thread.bobbins, 'bobbin')} to wind, of {full} each"
    return f"{spools} {of_it}{other}; {wind}."


def _sizes(sold: ThreadSold) -> str:
    if sold.needle.tex == sold.bobbin.tex:
        return f"Both threads are {sold.needle.tex:g} tex, grams to a kilometre (ISO 1144)."
    return (
        f"The needle's is {sold.needle.tex:g} tex, the bobbin's {sold.bobbin.tex:g} tex, grams to "
        "a kilometre (ISO 1144)."
    )


def _place(lock: float) -> str:
    known = {0.0: "at the front", 0.5: "in the middle", 1.0: "at the back of the layers"}
    return known.get(lock, f"at {lock:.0%} of the way to the back")


def _steps(one: ProjectThread, sold: ThreadSold, unit: Unit) -> KitTable:
    all_of_it = (
        f"all, for {number_of(one.hoopings, 'hooping')}",
        "",
        f"{sum(step.stitches for step in one.steps) * one.hoopings}",
        "",
        *_split(one.one.times(one.hoopings), unit),
    )
    return KitTable(
        caption=f"{one.title}, one hooping",
        head=("Step", "Stop", "Stitches", "Through", "Needle", "Bobbin"),
        rows=(*(_step(step, sold, unit) for step in one.steps), all_of_it),
        widths=(5, 1.2, 2, 5.5, 5, 5),
    )


def _step(step: StepThread, sold: ThreadSold, unit: Unit) -> tuple[str, ...]:
    stop = "–" if step.stop is None else str(step.stop)
    title = f"{step.step} {step.title}"
    through = thickness_words(step.thick, unit)
    return title, stop, str(step.stitches), through, *_split(thread_of([step], sold), unit)


def _split(taken: ThreadTaken, unit: Unit) -> tuple[str, str]:
    return thread_words(taken.needle, unit), thread_words(taken.bobbin, unit)


def _beside(thread: KitThread, unit: Unit) -> KitTable:
    found, rule = thread.all, thread.by_thousand
    least, most = USUAL_BOBBIN
    return KitTable(
        caption="Beside published figures",
        head=("All hoopings", "Needle", "Bobbin", "Both"),
        rows=(
            ("stitch by stitch, as above", *_split(found, unit), thread_words(found.both, unit)),
            (
                f"{USUAL_301:g} times the length sewn, the trade's ratio for type 301, with waste",
                "",
                "",
                thread_words(thread.by_301, unit),
            ),
            (
                (
                    f"{USUAL_NEEDLE[0]:g} m and {least:g} to {most:g} m for 1000 stitches, a rule "
                    "for embroidery"
                ),
                *_split(rule, unit),
                thread_words(rule.both, unit),
            ),
        ),
        widths=(6, 5, 5, 5),
    )
