"""All that a kit's papers tell: the kit, and what was worked out from it."""

from collections.abc import Iterator

from paramgen.kits.kit_price import KitPrice
from paramgen.kits.kit_section import KitSection
from paramgen.kits.kit_thread import KitThread
from paramgen.kits.kit_time import HoopingTime, KitClass
from paramgen.kits.mats_section import mats_section
from paramgen.kits.price_section import price_section
from paramgen.kits.settings_section import settings_section
from paramgen.kits.thread_section import thread_section
from paramgen.kits.time_section import time_section
from paramgen.kits.worked_kit import Kit
from paramgen.reference.work_times import MachinePace
from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True, kw_only=True)
class KitTold:
    """All that a kit's papers tell.

    Parameters
    ----------
    kit : Kit
    thread : KitThread
    times : tuple of HoopingTime
        One for each order.
    pace : MachinePace
        What those were reckoned with.
    in_class : KitClass or None
        None where it is none.
    price : KitPrice or None
        None where there are no prices.
    """

    kit: Kit
    thread: KitThread
    times: tuple[HoopingTime, ...]
    pace: MachinePace
    in_class: KitClass | None = None
    price: KitPrice | None = None

    @property
    def sections(self) -> tuple[KitSection, ...]:
        """What comes after the cutting, in its order."""
        return tuple(self._sections())

    def _sections(self) -> Iterator[KitSection]:
        if self.kit.on_mats:
            yield mats_section(self.kit)
        yield settings_section(self.kit.orders, self.pace, self.kit.unit)
        yield thread_section(self.thread, self.kit.unit)
        yield time_section(self.times, self.in_class)
        if self.price is not None:
            yield price_section(self.price)
