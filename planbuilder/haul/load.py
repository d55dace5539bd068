"""Mass and weight on the line."""

STANDARD_GRAVITY_M_PER_S2 = 9.80665
"""Standard acceleration of free fall, by definition (3rd CGPM, 1901)."""


def line_mass_kg(
    *,
    body_kg: float,
    clothing_kg: float,
    protective_kg: float,
    wet_ratio: float,
    stretcher_kg: float,
    attendant_kg: float,
    rigging_kg: float,
) -> float:
    """Mass that hangs on the line, in kg.

    Sum of the parts, derived. *wet_ratio* is water held over dry clothing mass: 0 dry, 1 soaked.
    *attendant_kg* is the person riding along with kit, 0 if nobody does. Holds for a free-hanging
    or sliding casualty only: freeing someone stuck in grain, sludge or a narrow gap can take
    several times the body weight and injures.
    """
    worn_kg = clothing_kg * (1 + wet_ratio) + protective_kg
    return body_kg + worn_kg + stretcher_kg + attendant_kg + rigging_kg


def weight_n(mass_kg: float) -> float:
    """Weight of *mass_kg* at rest, in N. Lifting adds a dynamic factor on top."""
    return mass_kg * STANDARD_GRAVITY_M_PER_S2
