"""Planning classes: how soon a casualty must have air or first care, by what can go wrong.

Planning figures that a named competent person accepts or replaces, never a promise of survival.
Take the shortest limit of all hazards; never average two. The time runs from the hazard acting.
"""

from enum import IntEnum

BLEEDING_LIMIT_S = 180.0
"""Time to stop severe bleeding: as little as 3 min (tactical combat casualty care guideline)."""

# Oxygen: fainting at 8 % of dry air at sea level (university safety table after older sources).
FAINTING_OXYGEN_FRACTION = 0.08

# Hydrogen sulfide: staggering and collapse within 5 min from 500 ppm on (PMC5777517, table 4); from
# the IDLH of 100 ppm on a load-time formula says nothing.
IDLH_HYDROGEN_SULFIDE_FRACTION = 100e-6
COLLAPSE_HYDROGEN_SULFIDE_FRACTION = 500e-6

# Carbon monoxide: 6,400 ppm unconscious within minutes (symptom tables); NIOSH IDLH 1,200 ppm.
COLLAPSE_CARBON_MONOXIDE_FRACTION = 6000e-6
IDLH_CARBON_MONOXIDE_FRACTION = 1200e-6

# Binary fractions only: 1200 ppm must count as 1200 ppm however it was written.
EQUAL_SLACK = 1e-9


class PlanningClass(IntEnum):
    """How fast the worst foreseeable event harms; the lower the number, the faster."""

    SECONDS = 1
    MINUTES = 2
    SUSPENSION = 3
    TENS_OF_MINUTES = 4
    MECHANICAL = 5


def air_limit_s(planning_class: PlanningClass) -> float:
    """Longest time from the hazard acting to air or first effective care, in s.

    SECONDS: 4 min as outer bound only, no entry rescue is in time. MINUTES: 4 min, from OSHA
    letters of 1992 to 2007 (3 to 4 min where suffocation or severe bleeding can be expected).
    SUSPENSION, motionless: 9 min to lying flat, from the NIOSH harness study of 37 workers.
    TENS_OF_MINUTES: 10 min, a choice. MECHANICAL: 15 min where life threat is unlikely, OSHA
    letters of 1992 to 1994.
    """
    match planning_class:
        case PlanningClass.SECONDS | PlanningClass.MINUTES:
            return 240.0
        case PlanningClass.SUSPENSION:
            return 540.0
        case PlanningClass.TENS_OF_MINUTES:
            return 600.0
        case PlanningClass.MECHANICAL:
            return 900.0


def oxygen_class(fraction: float) -> PlanningClass:
    """Class for air that can fall to *fraction* of oxygen, once that is below the entry limit."""
    if fraction < FAINTING_OXYGEN_FRACTION:
        return PlanningClass.SECONDS
    return PlanningClass.MINUTES


def hydrogen_sulfide_class(fraction: float) -> PlanningClass:
    """Class for air that can reach *fraction* of hydrogen sulfide. Smell is never a warning."""
    if fraction >= COLLAPSE_HYDROGEN_SULFIDE_FRACTION * (1 - EQUAL_SLACK):
        return PlanningClass.SECONDS
    return PlanningClass.MINUTES


def carbon_monoxide_class(fraction: float) -> PlanningClass:
    """Class for air that can reach *fraction* of carbon monoxide.

    Below 1,200 ppm it is TENS_OF_MINUTES: a choice. At 800 ppm and hard work, the Coburn-Forster-
    Kane uptake model reaches 30 % carboxyhaemoglobin after about half an hour (derived).
    """
    if fraction > COLLAPSE_CARBON_MONOXIDE_FRACTION:
        return PlanningClass.SECONDS
    if fraction >= IDLH_CARBON_MONOXIDE_FRACTION * (1 - EQUAL_SLACK):
        return PlanningClass.MINUTES
    return PlanningClass.TENS_OF_MINUTES
