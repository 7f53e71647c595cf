"""Sized projects made by hand, one of each kind, for whoever reads a project in a test.

The wallet's sizes are those of the worked example of a folding wallet (common practice,
no source): 4 1/2 × 7 in, zip 1 1/4 in below the top seam, coil gap 1/4 in.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import count

import numpy as np

from paramgen.vocabulary.kinds import Act, Face, FoldKind, Grain, NotionSort, Role, Side, StitchKind
from paramgen.vocabulary.path import Path, path
from paramgen.vocabulary.project import (
    Crease,
    Figure,
    Held,
    Layer,
    Line,
    Notion,
    Piece,
    Project,
    Step,
    Stitch,
)
from paramgen.vocabulary.unit import Unit

INCH = 25.4
COLOURS = ("#d62728", "#1f77b4", "#2ca02c", "#9467bd", "#ff7f0e", "#17becf", "#ffdd00", "#8c564b")

RUN = Stitch(StitchKind.RUN, 2.5)
PLACING = Stitch(StitchKind.RUN, 3.0)
BASTING = Stitch(StitchKind.BASTING, 5.0)
SEAM = Stitch(StitchKind.SEAM, 2.5, swing=2.0, spacing=1.5)


def oblong(left: float, top: float, right: float, bottom: float) -> Path:
    """Rectangle by its edges."""
    return path([(left, top), (right, top), (right, bottom), (left, bottom)], closed=True)


def oval(width: float, height: float, corners: int = 900, *, part: float = 1.0) -> Path:
    """Oval round the origin, or the part of it that starts at the right."""
    angle = np.linspace(0.0, 2 * np.pi * part, corners, endpoint=part < 1.0)
    points = np.stack([np.cos(angle) * width / 2, np.sin(angle) * height / 2], axis=1)
    return path(points, closed=part >= 1.0)


def open_path(*points: tuple[float, float]) -> Path:
    return path(points, closed=False)


@dataclass(frozen=True)
class Stepper:
    """Numbers steps and stops as they are made."""

    numbers: Iterator[int]
    stops: Iterator[int]

    def sew(self, title: str, *lines: Line) -> Step:
        stop = next(self.stops)
        colour = COLOURS[(stop - 1) % len(COLOURS)]
        return Step(
            number=next(self.numbers),
            stop=stop,
            act=Act.STITCH,
            title=title,
            say=f"{title}.",
            seen_from=Side.FRONT,
            colour=colour,
            lines=lines,
        )

    def by_hand(
        self,
        act: Act,
        title: str,
        *layers: Layer,
        seen_from: Side = Side.FRONT,
        tape: tuple[Path, ...] = (),
        mark: tuple[Path, ...] = (),
    ) -> Step:
        return Step(
            number=next(self.numbers),
            stop=None,
            act=act,
            title=title,
            say=f"{title}.",
            seen_from=seen_from,
            layers=layers,
            tape=tape,
            mark=mark,
        )


def stepper() -> Stepper:
    return Stepper(count(1), count(1))


def line(title: str, role: Role, stitch: Stitch, *paths: Path) -> Line:
    return Line(title.replace(" ", "-"), title, role, stitch, paths)


def coaster(width: float, height: float, unit: Unit = Unit.MM) -> Project:
    """Round turned goods with batting; the gap is the last fourteenth of the seam."""
    allowance = 7.0
    seam, sewn = oval(width, height), oval(width, height, part=13 / 14)
    cut = oval(width + 2 * allowance, height + 2 * allowance)
    batting = oval(width + 2.0, height + 2.0)
    cut_size = (width + 2 * allowance, height + 2 * allowance)
    make = stepper()
    steps = (
        make.sew(
            "Placement line for the batting",
            line("batting place", Role.PLACEMENT, PLACING, batting),
        ),
        make.by_hand(
            Act.LAY,
            "Lay the batting",
            Layer(
                piece="batting",
                title="Batting",
                fabric="batting",
                faceless=True,
                side=Side.FRONT,
                up=Face.RIGHT,
                outline=batting,
                folded_edges=(),
                plies=1,
            ),
        ),
        make.sew(
            "Tack the batting down", line("batting tack", Role.TACK_DOWN, RUN, oval(width, height))
        ),
        make.by_hand(
            Act.LAY,
            "Lay the top, right side up",
            Layer(
                piece="top",
                title="Top",
                fabric="outer",
                side=Side.FRONT,
                up=Face.RIGHT,
                outline=cut,
                folded_edges=(),
                plies=1,
            ),
        ),
        make.sew(
            "Baste the top",
            line("top baste", Role.BASTING, BASTING, oval(width + allowance, height + allowance)),
        ),
        make.by_hand(
            Act.LAY,
            "Lay the back, right sides together",
            Layer(
                piece="back",
                title="Back",
                fabric="outer",
                side=Side.FRONT,
                up=Face.WRONG,
                outline=cut,
                folded_edges=(),
                plies=1,
            ),
        ),
        make.sew("Seam, open for the gap", line("seam", Role.SEAM, SEAM, sewn)),
        make.by_hand(Act.UNHOOP, "Take the work out of the hoop"),
        make.by_hand(Act.TEAR, "Tear the stabiliser away", seen_from=Side.BACK),
        make.by_hand(Act.TRIM, "Trim outside the seam", mark=(oval(width + 6.4, height + 6.4),)),
        make.by_hand(Act.TURN, "Turn right side out through the gap"),
        make.by_hand(Act.PRESS, "Press, the gap's edges folded in"),
        make.by_hand(
            Act.TOP_STITCH, "Top-stitch near the edge", mark=(oval(width - 6, height - 6),)
        ),
    )
    top = Piece(
        name="top",
        title="Top",
        fabric="outer",
        quantity=1,
        cut=cut_size,
        folded=cut_size,
        outline=cut,
        creases=(),
        grain=Grain.HEIGHT,
    )
    pieces = (
        top,
        replace(top, name="back", title="Back"),
        Piece(
            name="batting",
            title="Batting",
            fabric="batting",
            quantity=1,
            cut=(width + 2, height + 2),
            folded=(width + 2, height + 2),
            outline=batting,
            creases=(),
            grain=Grain.ANY,
        ),
    )
    return Project(
        recipe="seed-mat",
        title="Mat for a seed tray",
        summary="A round padded mat.",
        unit=unit,
        finished=(width, height),
        sizes=(
            Figure("width", "finished width", width, True),
            Figure("height", "finished height", height, True),
        ),
        counts=(),
        lengths=(Figure("allowance", "seam allowance", allowance, False),),
        choices=(("outline", "outline", "oval", "oval"),),
        pieces=pieces,
        notions=(),
        holds=(),
        steps=steps,
        seam=seam,
        turned=False,
        findings=(),
    )


def _folded(
    name: str,
    title: str,
    fabric: str,
    left: float,
    top: float,
    right: float,
    bottom: float,
    *folds: str,
) -> Layer:
    """Layer folded with right sides out, its folds at the sides named."""
    edges = {
        "top": ((left, top), (right, top)),
        "bottom": ((left, bottom), (right, bottom)),
        "left": ((left, top), (left, bottom)),
        "right": ((right, top), (right, bottom)),
    }
    outline = oblong(left, top, right, bottom)
    plies = 2 * max(1, len(folds))
    return Layer(
        piece=name,
        title=title,
        fabric=fabric,
        side=Side.FRONT,
        up=Face.RIGHT,
        outline=outline,
        folded_edges=tuple(edges[f] for f in folds),
        plies=plies,
    )


def _folded_piece(layer: Layer, name: str, title: str, fabric: str, quantity: int = 1) -> Piece:
    left, top, right, bottom = layer.outline.bounds
    width, height = right - left, bottom - top
    crease = Crease(1, FoldKind.HALF, (-width / 2, 0.0), (width / 2, 0.0), "right sides out")
    outline = oblong(-width / 2, -height, width / 2, height)
    return Piece(
        name=name,
        title=title,
        fabric=fabric,
        quantity=quantity,
        cut=(width, 2 * height),
        folded=(width, height),
        outline=outline,
        creases=(crease,),
        grain=Grain.HEIGHT,
    )


def wallet(width: float = 4.5 * INCH, height: float = 7 * INCH, unit: Unit = Unit.INCH) -> Project:
    """Wallet with a zip, a pouch laid on the back, pockets in two stacks, a tab and tape."""
    x, y = width / 2, height / 2
    out, side, end, gap = 0.75 * INCH, 0.25 * INCH, 0.5 * INCH, 0.25 * INCH
    zip_y = -y + min(1.25 * INCH, height / 5)
    large = 0.5 * (y - 0.2 * y) + 0.35 * y
    small = large - 0.2 * y
    zip_layer = Layer(
        piece="zip",
        title="Zip",
        fabric="zip",
        side=Side.FRONT,
        up=Face.RIGHT,
        outline=oblong(-x - 1.2 * INCH, zip_y - 13, x + 1.2 * INCH, zip_y + 13),
        folded_edges=(),
        plies=1,
        slit=((-x - INCH, zip_y), (x + INCH, zip_y)),
    )
    upper = _folded(
        "upper",
        "Upper outer piece",
        "outer",
        -x - side,
        -y - out,
        x + side,
        zip_y - gap / 2,
        "bottom",
    )
    lower = _folded(
        "lower", "Lower outer piece", "outer", -x - side, zip_y + gap / 2, x + side, y + out, "top"
    )
    pouch = Layer(
        piece="pouch",
        title="Pouch lining",
        fabric="lining",
        side=Side.BACK,
        up=Face.WRONG,
        outline=oblong(-x - side, -y - end, x + side, 0.5 * INCH),
        folded_edges=(),
        plies=1,
    )
    pockets = [
        (
            _folded(
                f"{name}[1]",
                f"{title}, lower end",
                "pocket",
                -x - side,
                y - depth,
                x + side,
                y + end,
                "top",
            ),
            _folded(
                f"{name}[2]",
                f"{title}, upper end",
                "pocket",
                -x - side,
                -y - end,
                x + side,
                -y + depth,
                "bottom",
            ),
        )
        for name, title, depth in (
            ("small-pocket", "Small pocket", small),
            ("large-pocket", "Large pocket", large),
        )
    ]
    tab = _folded(
        "tab",
        "Tab",
        "outer",
        -0.375 * INCH,
        y - 1.3 * INCH,
        0.375 * INCH,
        y + 0.2 * INCH,
        "top",
        "left",
    )
    lining = Layer(
        piece="lining",
        title="Lining",
        fabric="lining",
        side=Side.FRONT,
        up=Face.WRONG,
        outline=oblong(-x - side, -y - end, x + side, y + end),
        folded_edges=(),
        plies=1,
    )

    def held(layer: Layer, sign: float) -> tuple[Path, ...]:
        """Tack-down in the allowance, round the three raw sides of a pocket."""
        _, top, _, bottom = layer.outline.bounds
        edge = (top if sign > 0 else bottom) + sign * 2.0
        far = sign * (y + 3.0)
        return (open_path((-x - 3, edge), (-x - 3, far), (x + 3, far), (x + 3, edge)),)

    def strips(*at: tuple[float, float]) -> tuple[Path, ...]:
        return tuple(oblong(px - 5, py - 9, px + 5, py + 9) for px, py in at)

    corner = 4.0
    seam = path(
        [(-x, -y), (x, -y), (x, y - corner), (x - corner, y), (-x + corner, y), (-x, y - corner)],
        closed=True,
    )
    turning = min(2.5 * INCH, 0.4 * height)
    sewn = open_path(
        (x, turning / 2),
        (x, y - corner),
        (x - corner, y),
        (-x + corner, y),
        (-x, y - corner),
        (-x, -y),
        (x, -y),
        (x, -turning / 2),
    )
    trim = oblong(-x - 3.2, -y - 3.2, x + 3.2, y + 3.2)
    make = stepper()
    sew, by_hand = make.sew, make.by_hand
    steps = [
        sew(
            "Placement line for the zip",
            line("zip place", Role.PLACEMENT, PLACING, oblong(-x, zip_y - 13, x, zip_y + 13)),
        ),
        by_hand(
            Act.LAY,
            "Lay the zip, right side up",
            zip_layer,
            tape=strips((-x - 20, zip_y), (x + 20, zip_y)),
        ),
        sew(
            "Tack the zip down",
            line(
                "zip tack above", Role.TACK_DOWN, RUN, open_path((-x, zip_y - 10), (x, zip_y - 10))
            ),
            line(
                "zip tack below", Role.TACK_DOWN, RUN, open_path((-x, zip_y + 10), (x, zip_y + 10))
            ),
        ),
        by_hand(Act.LAY, "Lay both outer pieces, folds against the coil", upper, lower),
        sew(
            "Top-stitch the outer pieces to the zip",
            line(
                "upper top-stitch",
                Role.TOP_STITCH,
                RUN,
                open_path((-x - 3, zip_y - 5.5), (x + 3, zip_y - 5.5)),
            ),
            line(
                "lower top-stitch",
                Role.TOP_STITCH,
                RUN,
                open_path((-x - 3, zip_y + 5.5), (x + 3, zip_y + 5.5)),
            ),
        ),
        by_hand(Act.UNTAPE, "Take the tape off the zip"),
        by_hand(Act.FLIP, "Turn the hoop over", seen_from=Side.BACK),
        by_hand(
            Act.LAY,
            "Lay the pouch lining on the back, right side towards the zip",
            pouch,
            seen_from=Side.BACK,
            tape=strips((-x - 6, -y), (x + 6, -y), (-x - 6, 8), (x * 0.4, 12)),
        ),
        by_hand(Act.FLIP, "Turn the hoop to the front"),
        sew(
            "Tack the pouch lining round",
            line("pouch tack", Role.TACK_DOWN, RUN, oblong(-x + 3, zip_y + 8, x - 3, 10.0)),
            line("pouch end", Role.TACK_DOWN, RUN, open_path((-x - 3, -y - 3), (x + 3, -y - 3))),
        ),
    ]
    for name, pair in zip(("small", "large"), pockets, strict=True):
        steps += [
            by_hand(Act.LAY, f"Lay the two {name} pockets, folds towards the middle", *pair),
            sew(
                f"Tack the {name} pockets down in the allowance",
                *(
                    line(f"{name} pocket tack", Role.TACK_DOWN, RUN, *held(layer, sign))
                    for layer, sign in zip(pair, (1.0, -1.0), strict=True)
                ),
            ),
        ]
    steps += [
        by_hand(Act.FOLD, "Fold the tab in four and edge-stitch it"),
        by_hand(
            Act.LAY,
            "Lay the tab over the lower end, raw ends out",
            tab,
            tape=strips((0.0, y - 0.8 * INCH)),
        ),
        sew(
            "Baste the tab",
            line("tab baste", Role.BASTING, BASTING, open_path((-12, y + 3), (12, y + 3))),
        ),
        by_hand(Act.UNTAPE, "Take all the tape off"),
        by_hand(Act.OPEN_ZIP, "Open the zip half way"),
        by_hand(
            Act.LAY,
            "Lay the lining, right sides together",
            lining,
            tape=strips((-x, -y), (x, -y), (-x, y), (x, y)),
        ),
        sew("Seam, open for the gap", line("seam", Role.SEAM, SEAM, sewn)),
        by_hand(Act.UNTAPE, "Take the tape off"),
        by_hand(Act.UNHOOP, "Take the work out of the hoop"),
        by_hand(Act.TEAR, "Tear the stabiliser away", seen_from=Side.BACK),
        by_hand(Act.TRIM, "Trim outside the seam", mark=(trim,)),
        by_hand(
            Act.CLIP,
            "Clip the corners",
            mark=tuple(
                open_path((sx * (x - 6), sy * (y + 2)), (sx * (x + 2), sy * (y - 6)))
                for sx in (-1, 1)
                for sy in (-1, 1)
            ),
        ),
        by_hand(Act.TURN, "Turn right side out through the gap"),
        by_hand(Act.PRESS, "Press"),
        by_hand(
            Act.TOP_STITCH,
            "Close the gap with top-stitching",
            mark=(oblong(-x + 2, -y + 2, x - 2, y - 2),),
        ),
        by_hand(Act.FASTEN, "Fit the snap to the tab", mark=(oval(10, 10),)),
    ]
    tab_outline = oblong(-1.5 * INCH, -1.5 * INCH, 1.5 * INCH, 1.5 * INCH)
    tab_creases = tuple(
        Crease(
            i + 1,
            FoldKind.QUARTER,
            (at * INCH, -1.5 * INCH),
            (at * INCH, 1.5 * INCH),
            "right sides out",
        )
        for i, at in enumerate((0.0, -0.75, 0.75))
    )
    flat = (width + 2 * side, height + 2 * end)
    pouch_size = (width + 2 * side, y + end + 0.5 * INCH)
    pieces = (
        _folded_piece(upper, "upper", "Upper outer piece", "outer"),
        _folded_piece(lower, "lower", "Lower outer piece", "outer"),
        _folded_piece(pockets[0][0], "small-pocket", "Small pocket", "pocket", 2),
        _folded_piece(pockets[1][0], "large-pocket", "Large pocket", "pocket", 2),
        Piece(
            name="tab",
            title="Tab",
            fabric="outer",
            quantity=1,
            cut=(3 * INCH, 3 * INCH),
            folded=(0.75 * INCH, 3 * INCH),
            outline=tab_outline,
            creases=tab_creases,
            grain=Grain.HEIGHT,
        ),
        Piece(
            name="pouch",
            title="Pouch lining",
            fabric="lining",
            quantity=1,
            cut=pouch_size,
            folded=pouch_size,
            outline=oblong(
                -pouch_size[0] / 2, -pouch_size[1] / 2, pouch_size[0] / 2, pouch_size[1] / 2
            ),
            creases=(),
            grain=Grain.HEIGHT,
        ),
        Piece(
            name="lining",
            title="Lining",
            fabric="lining",
            quantity=1,
            cut=flat,
            folded=flat,
            outline=oblong(-flat[0] / 2, -flat[1] / 2, flat[0] / 2, flat[1] / 2),
            creases=(),
            grain=Grain.ANY,
        ),
    )
    return Project(
        recipe="seed-wallet",
        title="Wallet for seed packets",
        summary="Folds over; a zipped pouch outside, pockets inside.",
        unit=unit,
        finished=(width, height),
        sizes=(
            Figure("width", "finished width, open", width, True),
            Figure("height", "finished height, open", height, True),
        ),
        counts=(Figure("pockets", "pockets in a stack", 2, False),),
        lengths=(Figure("side", "side allowance", side, False),),
        choices=(("pouch", "how far the pouch reaches", "short", "behind one half"),),
        pieces=pieces,
        notions=(
            Notion(
                name="zip",
                title="Zip",
                sort=NotionSort.ZIP,
                quantity=1,
                length=width + 2 * INCH,
                width=26.0,
                coil=gap,
            ),
        ),
        holds=(
            Held(
                name="packet",
                title="Seed packet",
                size=(85.6, 54.0),
                ease=2.0,
                against="front pocket",
            ),
        ),
        steps=tuple(steps),
        seam=seam,
        turned=False,
        findings=(),
    )


def tag(size: float = 40.0, unit: Unit = Unit.MM) -> Project:
    """Raw-edge plant tag: front, back on the underside, one line near the edge."""
    half = size / 2
    outline = oblong(-half, -half, half, half)
    near = oblong(-half + 3, -half + 3, half - 3, half - 3)
    make = stepper()
    steps = (
        make.sew("Placement line", line("place", Role.PLACEMENT, PLACING, outline)),
        make.by_hand(
            Act.LAY,
            "Lay the front",
            Layer(
                piece="front",
                title="Front",
                fabric="felt",
                side=Side.FRONT,
                up=Face.RIGHT,
                outline=outline,
                folded_edges=(),
                plies=1,
            ),
        ),
        make.sew("Tack the front down", line("tack", Role.TACK_DOWN, RUN, near)),
        make.by_hand(
            Act.LAY,
            "Lay the back on the underside",
            Layer(
                piece="back",
                title="Back",
                fabric="felt",
                side=Side.BACK,
                up=Face.WRONG,
                outline=outline,
                folded_edges=(),
                plies=1,
            ),
            seen_from=Side.BACK,
        ),
        make.sew("Last line near the edge", line("seam", Role.SEAM, RUN, near)),
        make.by_hand(Act.UNHOOP, "Take it out of the hoop"),
        make.by_hand(
            Act.TRIM,
            "Cut close to the line",
            mark=(oblong(-half + 1, -half + 1, half - 1, half - 1),),
        ),
    )
    pieces = tuple(
        Piece(
            name=name,
            title=title,
            fabric="felt",
            quantity=1,
            cut=(size, size),
            folded=(size, size),
            outline=outline,
            creases=(),
            grain=Grain.ANY,
        )
        for name, title in (("front", "Front"), ("back", "Back"))
    )
    return Project(
        recipe="plant-tag",
        title="Plant tag",
        summary="A tag for a plant pot.",
        unit=unit,
        finished=(size, size),
        sizes=(Figure("size", "side of the square", size, True),),
        counts=(),
        lengths=(),
        choices=(),
        pieces=pieces,
        notions=(),
        holds=(),
        steps=steps,
        seam=near,
        turned=False,
        findings=(),
    )


def smallest() -> Project:
    """40 × 40 mm."""
    return tag(40.0)


def largest() -> Project:
    """350 mm high."""
    return wallet(280.0, 340.0, Unit.MM)
