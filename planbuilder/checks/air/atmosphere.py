"""The air of a space as numbers: its volume, the fresh air that counts, parts of gases."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from planbuilder.checks.asking import Needs, answer
from planbuilder.checks.scene import Scene, derived, stated
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Quantity,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.profiles.statements import Duty
from planbuilder.response.ventilation import lacking_oxygen
from planbuilder.site.atmosphere import (
    Flammable,
    Gas,
    InsideShape,
    LimitBasis,
)
from planbuilder.tables import table
from planbuilder.units import Amount

OXYGEN_KINDS = (Gas.OXYGEN, Gas.INERT)
STANDARDS = {LimitBasis.NFPA_497: "NFPA 497", LimitBasis.IEC_60079_20_1: "IEC 60079-20-1"}
# The limit of the profile that a gas is held against, and the set-point that warns of it.
LIMITS = {
    Gas.OXYGEN: ("atmosphere.o2_min", "oxygen_low"),
    Gas.INERT: ("atmosphere.o2_min", "oxygen_low"),
    Gas.HYDROGEN_SULFIDE: ("atmosphere.h2s_max", "hydrogen_sulfide"),
    Gas.CARBON_MONOXIDE: ("atmosphere.co_max", "carbon_monoxide"),
    Gas.FLAMMABLE: ("atmosphere.lfl_max", "flammable"),
}


def judged(
    scene: Scene,
    rule: Rule,
    needs: Needs,
    outcome: Callable[[], Compared | Stated | Missing],
    *,
    settle_by: str,
    keys: tuple[str, ...],
    about: str = "",
    duty: Duty | None = None,
) -> Finding:
    """As asking.answer, for a question about the space and not about a way out of it.

    Where a rule set states a *duty*, its clause is cited, and it blocks where the duty binds.
    """
    found = answer(rule, next(scene.ways()), needs, outcome, settle_by=settle_by, keys=keys)
    if duty is not None:
        weighs = Weight.BLOCKS if duty.binds else None
        found = replace(found, weighs=weighs, asked_by=duty.source)
    return replace(found, about=about)


def words(gas: Gas) -> str:
    """The name of a gas as a reader says it."""
    return gas.value.replace("-", " ")


def volume(scene: Scene, needs: Needs, *, free: bool) -> Quantity:
    """The volume of air, as stated or from the height of the whole inside, floor to roof.

    Never from shape.depth: that is the way of the line, and may end at a sill far below the roof.
    *free* leaves out what liquid fills: less air goes bad sooner. A purge takes all of it.
    """
    shape = scene.space.shape
    if shape.volume is not None or shape.inside_height is None:
        return needs.take("V", "volume of air", shape.volume, Unit.M3, scene.key("shape.volume"))
    high = scene.given(
        "h_i", "height of the inside", shape.inside_height, Unit.M, "shape.inside_height"
    )
    width = needs.take("b", "width", shape.inside_width, Unit.M, scene.key("shape.inside_width"))
    needs.say(shape.inside_is, scene.key("shape.inside_is"))
    length, area, note = width, math.pi / 4 * width.value**2, "pi/4*b**2*h_i"
    if shape.inside_is is InsideShape.RECTANGULAR:
        key = scene.key("shape.inside_length")
        length = needs.take("a", "length", shape.inside_length, Unit.M, key)
        area, note = length.value * width.value, "a*b*h_i"
    of = tuple(dict.fromkeys((width, length, high)))
    height = high.value
    if free and shape.liquid_depth is not None:
        tail = "shape.liquid_depth"
        liquid = scene.given("z_w", "depth of liquid", shape.liquid_depth, Unit.M, tail)
        height, note, of = height - liquid.value, f"{note}, above the liquid", (*of, liquid)
    if height <= 0:
        needs.refused = "the liquid fills the space"
    return derived("V", "volume of air", area * height, Unit.M3, note, of)


def lower_limit(scene: Scene, needs: Needs) -> Quantity:
    """The lower flammable limit of the gas in the space, on the basis that the plan has chosen."""
    flammable = scene.space.flammable
    if flammable is None:
        return needs.number("LFL", "", None, Unit.FRACTION, scene.key("flammable"))
    needs.say(flammable.basis, scene.key("flammable.basis"))
    found, own = _tabled(flammable), flammable.lower_limit
    if found is not None and (own is None or found.value <= own.ratio):
        return found
    label = f"lower flammable limit of {flammable.substance}"
    return needs.take("LFL", label, own, Unit.FRACTION, scene.key("flammable.lower_limit"))


def _tabled(flammable: Flammable) -> Quantity | None:
    row = table("flammable_limits").get(flammable.substance.strip().lower().replace(" ", "-"))
    standard = STANDARDS.get(flammable.basis) if flammable.basis else None
    if row is None or standard is None:
        return None
    return Quantity(
        symbol="LFL",
        label=f"lower flammable limit of {flammable.substance}",
        value=row[flammable.basis],
        unit=Unit.FRACTION,
        source=Source(mark=Mark.READ, document=standard, note="secondary copy"),
    )


def part(
    scene: Scene, needs: Needs, gas: Gas, amount: Amount | Quantity | None, key: str, name: str
) -> Quantity:
    """The part of *gas* that an amount of the site file or a limit means, as symbol C_*name*.

    For oxygen it is what is lacking of it; for a flammable gas a share of its lower limit.
    """
    label = "oxygen" if gas in OXYGEN_KINDS else words(gas)
    symbol = {Gas.FLAMMABLE: "x_", Gas.OXYGEN: "O_", Gas.INERT: "O_"}.get(gas, "C_") + name
    if isinstance(amount, Quantity):
        given = replace(amount, symbol=symbol)
    else:
        given = needs.take(symbol, f"{label}, {name}", amount, Unit.FRACTION, key)
    if gas in OXYGEN_KINDS:
        value = needs.work(lambda: lacking_oxygen(given.value))
        text = f"oxygen lacking, {name}"
        return derived(f"C_{name}", text, value, Unit.FRACTION, "0.209 less oxygen", (given,))
    if gas is Gas.FLAMMABLE:
        limit = lower_limit(scene, needs)
        text = f"{label}, {name}"
        value = given.value * limit.value
        note = "share times lower limit"
        return derived(f"C_{name}", text, value, Unit.FRACTION, note, (given, limit))
    return given


def target(scene: Scene, gas: Gas, own: Amount | None, key: str) -> Quantity:
    """What the air must come to: the limit of the profile, or the site's own where stricter."""
    limit = scene.limits.of(LIMITS[gas][0])
    if own is None or limit.relation.holds(limit.quantity.value, own.value):
        return limit.quantity
    return stated("C", "target of the site", own, Unit.FRACTION, key)
