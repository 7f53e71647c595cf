"""One width changed in a warm workshop, with each kind of embellishment on the wallet.

`python tests/benchmarks/embellished.py [CHECKOUT]` prints one table and never fails. The wallet is
made with one thing on its lower outer panel, its width 1 mm more each time, and from this checkout
and from the earlier one by turns, in the same Python; times are those of the processor, medians, in
milliseconds. `embellished.py --once` is what each of them runs.
"""

import json
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np

from paramgen import Order, Room, Workshop, find_hoop
from paramgen.drawings.back_end.svg import to_svg
from paramgen.drawings.front_end.scene import hooped
from paramgen.drawings.pictures.whole_project import whole
from paramgen.embellishment.motif_stitches import MotifStitches, MotifStop, about_its_middle
from paramgen.embellishment.read_embellishment import embellishments_asked

HERE = Path(__file__).resolve().parents[2]
#: How often the checkouts take turns, and widths tried in each turn.
TURNS, WIDTHS = 3, 4
NARROWEST = 115.0
#: What may be taken, ms: the numbers and the whole picture, and all findings besides.
GOALS = {"picture": 30, "findings": 80}

#: What is stitched on the lower outer panel.
ON = {
    "nothing": "",
    "quilting, parallel": "quilting:diagonal,20mm",
    "quilting, crossed": "quilting:crossed,20mm",
    "quilting, diamond": "quilting:diamond,20mm",
    "quilting, echo": "quilting:echo,10mm",
    "quilting, stippling": "quilting:stippling,8mm",
    "quilting, batting": "quilting:crossed,batting,20mm",
    "edge, straight": "edge:straight",
    "edge, scallop": "edge:scallop",
    "edge, wave": "edge:wave",
    "edge, feather": "edge:feather",
    "edge, blanket": "edge:blanket",
    "applique, as fits": "applique:heart",
    "applique, as said": "applique:star,40mm",
    "words, as fit": 'words:"seed swap"',
    "words, as said": 'words:"seed swap",10mm',
    "words, single line": 'words:"seed swap",single line',
    "motif": "motif",
    "several": 'words:"seed swap",8mm;edge:scallop;quilting:echo,10mm',
}


def main() -> None:
    """Print the table."""
    if "--once" in sys.argv:
        print(json.dumps({name: turn(on) for name, on in ON.items()}))
        return
    checkouts = [HERE, *(Path(one).resolve() for one in sys.argv[1:2])]
    took: dict[Path, list[dict[str, dict[str, list[float]]]]] = {one: [] for one in checkouts}
    for _ in range(TURNS):
        for checkout in reversed(checkouts):
            took[checkout].append(once(checkout))
    print(f"{'what':22} {'picture':>16} {'all findings':>16}   goals {GOALS}")
    print(f"{'':22} {'before':>8}{'now':>8} {'before':>8}{'now':>8}")
    for name in ON:
        cells = []
        for look in GOALS:
            for checkout in reversed(checkouts):
                times = [one for done in took[checkout] for one in done[name][look]]
                cells.append(f"{statistics.median(times):8.1f}")
        print(f"{name:22} {' '.join(cells)}")


def once(checkout: Path) -> dict[str, dict[str, list[float]]]:
    """What one run of this file takes with a checkout."""
    env = {**os.environ, "PYTHONPATH": str(checkout)}
    words = [sys.executable, __file__, "--once"]
    done = subprocess.run(words, env=env, capture_output=True, check=True, text=True)
    found: dict[str, dict[str, list[float]]] = json.loads(done.stdout)
    return found


def turn(on: str) -> dict[str, list[float]]:
    """Times of each width with something stitched on, ms."""
    workshop = Workshop()
    recipe, room = workshop.recipe("fold-wallet"), Room(find_hoop("160x260", workshop.hoops))
    asked = ";".join(f"lower outer={one}" for one in on.split(";") if one)
    read = embellishments_asked(asked.replace("motif", 'motif:"sprig.dst"')) if asked else ()
    recipe = replace(
        recipe,
        on=tuple(replace(one, motif=sprig()) if one.kind == "motif" else one for one in read),
    )
    widths = iter(NARROWEST + number / 2 for number in range(4 * WIDTHS))

    def picture(order: Order) -> object:
        made = workshop.attempt(order).hooped
        assert made is not None
        hoop = made.room.hoop
        return to_svg(whole(hooped(made.project, hoop.name, hoop.width, hoop.height)))

    def findings(order: Order) -> object:
        return workshop.attempt(order).findings, picture(order)

    def change(look: Callable[[Order], object]) -> float:
        order = Order(recipe, {"width": next(widths)}, room)
        start = time.process_time()
        look(order)
        return 1000 * (time.process_time() - start)

    change(findings)
    times: dict[str, list[float]] = {"picture": [], "findings": []}
    for _ in range(WIDTHS):
        times["picture"].append(change(picture))
        times["findings"].append(change(findings))
    return times


def sprig() -> MotifStitches:
    """A motif of a thousand needle points: a spiral in three runs."""
    turn = np.sqrt(np.linspace(1.0, 900.0, 350))
    runs = tuple(
        np.stack([turn * np.cos(turn), turn * np.sin(turn)], axis=1) / 2.5 + [30.0 * at, 0.0]
        for at in range(3)
    )
    return about_its_middle("sprig.dst", "0" * 64, [MotifStop("#336633", runs)])


if __name__ == "__main__":
    main()
