"""Carbon monoxide: how soon the blood of somebody who breathes it is laden.

The model of Coburn, Forster and Kane in its non-linear form. As it depends on the load alone, the
time from one load to another has a closed form, so that it can be followed with a pencil. Loads
are parts of the haemoglobin: 0.30 is 30 % carboxyhaemoglobin.
"""

import math
from dataclasses import dataclass

INCAPACITATING = 0.30
"""Load at which an active person is taken to be unable to act (fire-safety practice, recalled)."""
RESTING_LOAD = 0.008
"""Load before the exposure, from the body's own making (Peterson and Stewart, recalled)."""

_MMHG_PA = 133.322
_ML_PER_MIN = 1e-6 / 60  # in m3/s
_AFFINITY = 218.0  # of haemoglobin for carbon monoxide over oxygen
_BLOOD_M3 = 5.5e-3
_BLOOD_HOLDS = 0.20  # volume of carbon monoxide in a volume of blood, all places taken
_CAPILLARY_OXYGEN_PA = 100 * _MMHG_PA
_MADE_M3_PER_S = 0.007 * _ML_PER_MIN
_DRY_AIR_PA = (760 - 47) * _MMHG_PA


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard somebody works: air into the lung, and how fast gas passes from it to the blood."""

    alveolar_air_m3_per_s: float
    diffusing_m3_per_s_pa: float

    @property
    def resistance_pa_s_per_m3(self) -> float:
        """Pressure of carbon monoxide that drives one unit of flow into the blood."""
        return 1 / self.diffusing_m3_per_s_pa + _DRY_AIR_PA / self.alveolar_air_m3_per_s


HEAVY_BREATH_M3_PER_S = 30_000 * _ML_PER_MIN
HEAVY = Effort(HEAVY_BREATH_M3_PER_S, 50 * _ML_PER_MIN / _MMHG_PA)
"""Heavy work after Peterson and Stewart (recalled). Limits are worked out for it, since the model
says too little of arterial blood while the load rises (trial at 6,683 ppm)."""


def uptake_time_s(effort: Effort) -> float:
    """Time constant of uptake, in s: blood to be laden times what holds the gas back."""
    held_m3 = _BLOOD_M3 * _BLOOD_HOLDS
    return held_m3 * effort.resistance_pa_s_per_m3 * _AFFINITY / _CAPILLARY_OXYGEN_PA


def balance_ratio(fraction: float, effort: Effort) -> float:
    """Laden over free haemoglobin in the end, at a *fraction* of carbon monoxide in the air."""
    own_pa = _MADE_M3_PER_S * effort.resistance_pa_s_per_m3
    return _AFFINITY * (fraction * _DRY_AIR_PA + own_pa) / _CAPILLARY_OXYGEN_PA


def time_to_load_s(
    *,
    uptake_s: float,
    ratio: float,
    load: float = INCAPACITATING,
    load_before: float = RESTING_LOAD,
) -> float:
    """Time from *load_before* to *load*, in s; infinite where the balance is never that high.

    *uptake_s* and *ratio* are those of `uptake_time_s` and `balance_ratio`. Exact solution of
    dx/dt = (A - x/(1 - x))/T (Coburn-Forster-Kane, non-linear form; solution derived).
    """
    gap_before, gap = (ratio - (1 + ratio) * one for one in (load_before, load))
    if gap <= 0:
        return math.inf
    linear = (load - load_before) / (1 + ratio)
    return uptake_s * (linear + math.log(gap_before / gap) / (1 + ratio) ** 2)


def incapacitating_time_s(fraction: float) -> float:
    """Time to 30 % carboxyhaemoglobin at heavy work, in s, at a *fraction* in the air."""
    ratio = balance_ratio(fraction, HEAVY)
    return time_to_load_s(uptake_s=uptake_time_s(HEAVY), ratio=ratio)


def quick_load(*, fraction: float, breath_m3_per_s: float, time_s: float) -> float:
    """Load gained in a short, high exposure, by the straight line of Stewart et al., 1973.

    *breath_m3_per_s* is the air breathed. Valid well below the balance: it never bends.
    """
    rate = 3.317e-5 * math.pow(1e6 * fraction, 1.036)
    percent = rate * (6e4 * breath_m3_per_s) * (time_s / 60)
    return percent / 100


def whole_minutes_s(time_s: float) -> float:
    """A time cut to whole minutes, in s, as a planning limit is given; below 1 min as it is."""
    if not math.isfinite(time_s) or time_s < 60:  # noqa: PLR2004 - one minute
        return time_s
    return math.floor(time_s / 60) * 60.0
