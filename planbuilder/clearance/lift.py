"""How far a casualty comes out of an opening at full hoist, and the hook height that takes.

Heights count from grade, up positive; the rim is the coaming above grade. The casualty hangs limp.
Body ratios: ANSUR II (US Army 2012, NATICK/TR-15/007), a fit group measured with little on.
"""

from enum import StrEnum

# Back D-ring taken at shoulder height: mean 0.8203 of stature in men, 0.8198 in women.
DORSAL_RATIO = 0.82

# Chest height: 0.735 of stature in men, 0.719 in women; the larger needs more room.
FRONT_RATIO = 0.735

# Sole to wrist, arms up, over stature: the largest of the P50 and P95 of men and women is the men's
# P95, 2235 over 1870 mm (the others 2070/1755, 1897/1626, 2056/1740); the largest needs most room.
WRIST_RATIO = 2235 / 1870

# Crotch height over stature, men's P50: 845 over 1755 mm.
CROTCH_RATIO = 0.481

# Toes below the sole of a limp foot, drooping 50 degrees; derived from foot and ankle data of men.
FOOT_DROOP_M = 0.13


class Attachment(StrEnum):
    """Where the line holds the casualty."""

    DORSAL = "dorsal"
    FRONT = "front"
    WRISTLETS = "wristlets"


def attachment_to_toe_m(
    *, attachment: Attachment, stature_m: float, harness_stretch_m: float
) -> float:
    """Length of a limp hanging casualty from attachment to toes, in m; derived.

    Wristlets hold the wrists overhead, with no harness to stretch.
    """
    match attachment:
        case Attachment.DORSAL:
            return DORSAL_RATIO * stature_m + harness_stretch_m + FOOT_DROOP_M
        case Attachment.FRONT:
            return FRONT_RATIO * stature_m + harness_stretch_m + FOOT_DROOP_M
        case Attachment.WRISTLETS:
            return WRIST_RATIO * stature_m + FOOT_DROOP_M


def attachment_to_crotch_m(*, stature_m: float, harness_stretch_m: float) -> float:
    """Length of a casualty hanging by the back D-ring from D-ring to crotch, in m; derived."""
    return (DORSAL_RATIO - CROTCH_RATIO) * stature_m + harness_stretch_m


def feet_above_rim_m(
    *,
    hook_height_m: float,
    block_m: float,
    connector_m: float,
    sling_m: float,
    attachment_to_toe_m: float,
    coaming_m: float,
) -> float:
    """Height of the toes above the rim at full hoist, in m; negative: still inside.

    *block_m* is the hook block with the travel left above it, *sling_m* a sling or bridle.
    """
    return hook_height_m - (block_m + connector_m + sling_m + attachment_to_toe_m) - coaming_m


def hook_height_needed_m(
    *,
    block_m: float,
    connector_m: float,
    sling_m: float,
    attachment_to_toe_m: float,
    coaming_m: float,
    swing_aside_m: float,
) -> float:
    """Height of the head above grade, in m, that lifts the toes *swing_aside_m* over the rim."""
    hanging_m = block_m + connector_m + sling_m + attachment_to_toe_m
    return hanging_m + coaming_m + swing_aside_m


def seat_above_rim_m(
    *,
    hook_height_m: float,
    block_m: float,
    connector_m: float,
    sling_m: float,
    attachment_to_crotch_m: float,
    coaming_m: float,
) -> float:
    """Height of the seat above the rim at full hoist by the back D-ring, in m.

    Above it, attendants can tip the casualty out over the rim while the legs are still inside.
    """
    return hook_height_m - (block_m + connector_m + sling_m + attachment_to_crotch_m) - coaming_m
