"""What cylinders give: cooled to where they are used, as a real gas, above what is kept back."""

from __future__ import annotations

import functools
from dataclasses import dataclass

from planbuilder.checks.asking import Needs
from planbuilder.checks.scene import Scene, counted, derived, stated
from planbuilder.findings import Mark, Quantity, Source, Unit
from planbuilder.response.gas import (
    STANDARD_PRESSURE_PA,
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

COOLED = "(P_fill + P_0)*Z_use*T_use/(Z_fill*T_fill) - P_0"
USABLE = "V_w*n_cyl*((P_full + P_0)/Z_full - (P_res + P_0)/Z_res)*Z_0/P_0"


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
    """Cylinders at one temperature, the coldest that they have; not used below *low*.

    *warm* is the same cylinders at the warmest, where a reading stands for less air.
    """

    water_m3: float
    temperature_k: float
    filled: Quantity
    low: Quantity
    of: tuple[Quantity, ...]
    warm: Store | None = None

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
    warm, cold = (filled_at, coldest) if filled_at.value >= coldest.value else (coldest, filled_at)
    full, hot = (_full(filled, filled_at, one, needs) for one in (cold, warm))
    of = (
        *(water, number, filled, filled_at, coldest, full, low, outside()),
        compressibility("fill", filled, filled_at, needs),
        compressibility("full", full, cold, needs),
        compressibility("res", low, cold, needs),
        compressibility("0", None, cold, needs),
    )
    water_m3 = water.value * number.value
    heated = Store(water_m3, warm.value, hot, low, of)
    return Store(water_m3, cold.value, full, low, of, heated)


def outside() -> Quantity:
    """The pressure around a gauge, which it does not show."""
    note = "one standard atmosphere"
    return derived("P_0", "air outside, absolute", STANDARD_PRESSURE_PA, Unit.PA_GAUGE, note)


def compressibility(name: str, reading: Quantity | None, at: Quantity, needs: Needs) -> Quantity:
    """Z at a gauge reading, or in the open, and at a temperature; as symbol Z_*name*."""
    shown_pa = reading.value if reading else 0.0
    where = f"{reading.symbol if reading else 'P_0'}, {at.label}"
    return Quantity(
        symbol=f"Z_{name}",
        label=f"compressibility at {where}",
        value=needs.work(lambda: air_factors().factor(absolute_pa(shown_pa), at.value)),
        unit=Unit.COMPRESSIBILITY,
        source=Source(mark=Mark.DERIVED, document="Lemmon 2000", note="table of the tool"),
    )


def reading_at(filled: Quantity, filled_at: Quantity, used_at: Quantity, needs: Needs) -> float:
    """What the gauge of a full, closed cylinder shows at another temperature than at filling."""
    if used_at.value == filled_at.value:
        return filled.value
    return needs.work(lambda: _cooled_pa(filled.value, filled_at.value, used_at.value))


def _full(filled: Quantity, filled_at: Quantity, used_at: Quantity, needs: Needs) -> Quantity:
    value = reading_at(filled, filled_at, used_at, needs)
    is_cooled = used_at.value != filled_at.value
    note = COOLED.replace("Z_use", "Z_full") if is_cooled else "P_fill"
    return derived("P_full", f"gauge when full, {used_at.label}", value, Unit.PA_GAUGE, note)


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
    return derived("V_u", "usable air, real gas", value, Unit.M3, USABLE, store.of)
