"""What cylinders give: cooled to where they are used, as a real gas, above what is kept back."""

from __future__ import annotations

import functools
from dataclasses import dataclass, replace

from planbuilder.checks.asking import Needs
from planbuilder.checks.scene import Scene, counted, derived, stated
from planbuilder.findings import Quantity, Unit
from planbuilder.response.gas import (
    FactorTable,
    absolute_pa,
    cooled_pressure_pa,
    free_volume_m3,
    gauge_pa,
    pressure_pa,
)
from planbuilder.site.air import CylinderAir, LineAir
from planbuilder.site.equipment import Equipment
from planbuilder.tables import table


@functools.cache
def air_factors() -> FactorTable:
    """The compressibility factors of air that the tool ships."""
    rows = table("air_compressibility")
    return FactorTable(
        tuple(one * 1e5 for one in rows["pressures_bar"]),
        tuple(one + 273.15 for one in rows["temperatures_c"]),
        tuple(map(tuple, rows["factors"])),
    )


@dataclass(frozen=True, slots=True)
class Store:
    """Cylinders at one temperature, usually the coldest in use; not used below *low*."""

    water_m3: float
    temperature_k: float
    filled: Quantity
    low: Quantity
    of: tuple[Quantity, ...]

    @property
    def as_filled(self) -> Store:
        """The same cylinders as warm, and at the reading, that they were filled at."""
        stated = {one.symbol: one for one in self.of}
        filled, warm = stated["P_fill"], stated["T_fill"]
        return replace(self, filled=filled, temperature_k=warm.value)

    def free_m3(self, reading_pa: float) -> float:
        """Free air that a gauge reading stands for."""
        return free_volume_m3(
            air_factors().factor,
            water_m3=self.water_m3,
            pressure_pa=absolute_pa(reading_pa),
            temperature_k=self.temperature_k,
        )

    def reading_pa(self, free_m3: float) -> float:
        """The gauge reading that goes with free air; nought where there would be none."""
        pressure = pressure_pa(
            air_factors().factor,
            water_m3=self.water_m3,
            volume_m3=max(free_m3, 0.0),
            temperature_k=self.temperature_k,
            most_pa=air_factors().most_pa,
        )
        return gauge_pa(pressure)

    @property
    def full_m3(self) -> float:
        """Free air in the full cylinders."""
        return self.free_m3(self.filled.value)

    @property
    def low_m3(self) -> float:
        """Free air that is left at the lowest reading allowed."""
        return self.free_m3(self.low.value)

    @property
    def usable_m3(self) -> float:
        """Free air from full to the lowest reading allowed."""
        return self.full_m3 - self.low_m3


def cylinders(scene: Scene, item: Equipment, air: CylinderAir, needs: Needs) -> Store:
    """The cylinders of a set: its reserve is the alarm, the tool's least, or a higher one."""
    key = f"equipment.{item.id}.air"
    alarm = needs.take(
        "P_res", "low-air alarm", air.alarm_pressure, Unit.PA_GAUGE, f"{key}.alarm_pressure"
    )
    lows = [scene.defaults.of("air-reserve"), alarm]
    if air.reserve is not None:
        lows.append(stated("P_res", "reserve", air.reserve, Unit.PA_GAUGE, f"{key}.reserve"))
    return _store(air, key, max(lows, key=lambda one: one.value), needs)


def bank(item: Equipment, air: LineAir, needs: Needs) -> Store:
    """The cylinders that feed an air line, down to the least pressure that still feeds it."""
    key = f"equipment.{item.id}.air"
    low = needs.take(
        "P_res", "least of the bank", air.least_pressure, Unit.PA_GAUGE, f"{key}.least_pressure"
    )
    return _store(air, key, low, needs)


def _store(air: CylinderAir | LineAir, key: str, low: Quantity, needs: Needs) -> Store:
    water = needs.take(
        "V_w", "water volume of a cylinder", air.water_volume, Unit.M3, f"{key}.water_volume"
    )
    number = counted("n_cyl", "cylinders on one gauge", air.cylinders, f"{key}.cylinders")
    filled = needs.take(
        "P_fill", "fill pressure", air.fill_pressure, Unit.PA_GAUGE, f"{key}.fill_pressure"
    )
    filled_at = needs.take(
        "T_fill", "temperature at filling", air.filled_at, Unit.K, f"{key}.filled_at"
    )
    coldest = needs.take("T_use", "coldest in use", air.coldest, Unit.K, f"{key}.coldest")
    of = (water, number, filled, filled_at, coldest, low)
    cooled_pa = needs.work(lambda: _cooled_pa(filled.value, filled_at.value, coldest.value))
    full = derived(
        "P_full", "full, at the coldest", cooled_pa, Unit.PA_GAUGE, "P/(Z*T) stays as filled"
    )
    return Store(water.value * number.value, coldest.value, full, low, of)


def _cooled_pa(filled_pa: float, filled_k: float, used_k: float) -> float:
    factors = air_factors()
    cooled = cooled_pressure_pa(
        factors.factor,
        filled_pa=absolute_pa(filled_pa),
        filled_k=filled_k,
        used_k=used_k,
        most_pa=factors.most_pa,
    )
    return gauge_pa(cooled)


def usable(store: Store, needs: Needs) -> Quantity:
    """The air that a store gives: the limit for what is breathed."""
    value = needs.work(lambda: store.usable_m3)
    note = (
        "V_w*n_cyl*(P_full/Z_full - P_res/Z_res)*Z_0/P_0, absolute pressures, Z after Lemmon 2000; "
        f"full {store.filled.value / 1e5:.0f} bar, kept back {store.low.value / 1e5:.0f} bar"
    )
    return derived("V_u", "usable air, real gas", value, Unit.M3, note, store.of)
