"""Hand-hauled rope systems: real and ideal advantage, haul force, people on the rope.

Strand by strand (T-method), derived: the haul strand carries 1, every sheave passes on
*efficiency* of the tension, and what reaches the load is summed. Raising only. Sheave tread at
least 4 rope diameters, sheaves turning, rope dry. Equal efficiency in every sheave.
"""

import math
from collections.abc import Sequence
from enum import StrEnum

# Binary fractions only: three people exactly must not become four.
COUNT_SLACK = 1e-9


# Manuals that add up friction count a tenth of the load for every sheave.
ADDED_SHARE_PER_SHEAVE = 0.10


class Reeving(StrEnum):
    """How the rope runs.

    SIMPLE: one rope, n parts of it at the load, the haul strand leaving the moving side. COMPOUND:
    simple systems, each pulling on the haul strand of the one before. COMPLEX_5: a 3:1 whose haul
    strand turns once more, through a pulley grabbed to the strand between the moving and the
    anchor pulley.
    """

    SIMPLE = "simple"
    COMPOUND = "compound"
    COMPLEX_5 = "complex-5"


def advantage(
    *, reeving: Reeving, parts: Sequence[int], efficiency: float, redirects: int
) -> float:
    """Load over haul force while raising, friction in the sheaves counted.

    *parts* is (n,) for SIMPLE, one number a stage for COMPOUND, (5,) for COMPLEX_5. Each of the
    *redirects* at the haul end turns the rope by 180 degrees and costs one more sheave: pulling
    down off the fixed block is one. Raises ValueError if *parts* does not fit the reeving.
    """
    _require_parts(reeving, parts)
    passed = efficiency**redirects
    match reeving:
        case Reeving.SIMPLE | Reeving.COMPOUND:
            return passed * math.prod(_simple_advantage(one, efficiency) for one in parts)
        case Reeving.COMPLEX_5:
            return passed * (2 * efficiency + 2 * efficiency**2 + efficiency**3)


def ideal_advantage(*, reeving: Reeving, parts: Sequence[int]) -> int:
    """Load over haul force without friction; also haul travel over rise of the load.

    Redirects do not change it. Raises ValueError if *parts* does not fit the reeving.
    """
    _require_parts(reeving, parts)
    return math.prod(parts)


def haul_force_n(*, system_load_n: float, advantage: float) -> float:
    """Force on the haul strand, in N, for the load after edge friction."""
    return system_load_n / advantage


def people_needed(*, haul_force_n: float, force_per_person_n: float) -> int:
    """Whole people on the haul strand, each holding *force_per_person_n* for the whole raise."""
    return math.ceil(haul_force_n / force_per_person_n * (1 - COUNT_SLACK))


def anchor_load_n(*, system_load_n: float, haul_force_n: float) -> float:
    """Force of the whole system on its anchor, in N, the haulers pulling toward the load.

    Derived (free body of the system), all pulls along one line: the worst way. Hauled past the
    anchor it would be their difference, and parked on the capture the load alone: both less.
    """
    return system_load_n + haul_force_n


def added_friction_haul_n(*, load_n: float, sheaves: int, ideal_advantage: float) -> float:
    """Haul force by the additive rule of older manuals, in N: 10 % of the load for every sheave.

    US Navy Steelworker manual, vol. 2, allowance for friction; US Navy construction manual 14043
    turns it round for the load. A second opinion only: a plan counts the tensions strand by strand,
    which keep track of where each sheave stands.
    """
    return load_n * (1 + ADDED_SHARE_PER_SHEAVE * sheaves) / ideal_advantage


def _simple_advantage(parts: int, efficiency: float) -> float:
    """Sum of the strand tensions at the load: 1 + e + e**2 ... with one term a part."""
    return math.fsum(efficiency**sheave for sheave in range(parts))


def _require_parts(reeving: Reeving, parts: Sequence[int]) -> None:
    """Raise ValueError unless *parts* has the form *reeving* needs."""
    match reeving:
        case Reeving.SIMPLE:
            fits, wanted = len(parts) == 1 and parts[0] >= 1, "one number, 1 or more"
        case Reeving.COMPOUND:
            fits = len(parts) >= 1 and min(parts) >= 1
            wanted = "one number for each stage, each 1 or more"
        case Reeving.COMPLEX_5:
            fits, wanted = tuple(parts) == (5,), "the one number 5"
    if not fits:
        raise ValueError(f"{reeving} reeving takes {wanted}, got {tuple(parts)}")
