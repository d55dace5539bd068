"""What every check of a fall asks for: measures, weight, deceleration, free fall, absorber."""

from __future__ import annotations

from collections.abc import Callable

from planbuilder.checks.asking import MEASURE, Needs
from planbuilder.checks.casualty import GRAVITY, body_mass
from planbuilder.checks.scene import Scene, Working, derived, finding
from planbuilder.clearance.fall import lanyard_free_fall_m, rope_grab_free_fall_m
from planbuilder.findings import Compared, Finding, Missing, Quantity, Rule, Unit
from planbuilder.haul.load import weight_n
from planbuilder.haul.shock import absorber_travel_m
from planbuilder.site.equipment import SelfRetractingLine
from planbuilder.site.fall import Fall
from planbuilder.units import Length

USER_FORMULA = "m_body + m_cloth + m_ppe + m_tools"


def measure(
    scene: Scene, needs: Needs, symbol: str, label: str, amount: Length | None, name: str
) -> Quantity:
    """A length under the key *name* of the fall."""
    return needs.take(symbol, label, amount, Unit.M, scene.key(f"fall.{name}"))


def user_mass(scene: Scene) -> Working:
    """The heaviest user with clothing, gear and tools."""
    names = ("clothing-mass", "protective-mass", "tools-mass")
    inputs = (body_mass(scene), *(scene.defaults.of(one) for one in names))
    return Working(sum(one.value for one in inputs), USER_FORMULA, inputs)


def user_weight(scene: Scene) -> Working:
    """The weight of the heaviest user."""
    mass = user_mass(scene)
    return Working(weight_n(mass.value), f"({mass.formula})*g", (*mass.inputs, GRAVITY))


def free_fall(scene: Scene, fall: Fall, needs: Needs) -> Working:
    """The free fall on a lanyard, or on a lanyard and a grab; unknown where it cannot connect."""
    line = measure(scene, needs, "l", "connector", fall.connector, "connector")
    dring = measure(scene, needs, "h_D0", "D-ring height", fall.dring_height, "dring_height")
    if fall.arrest == "rope-grab":
        return _on_grab(scene, fall, needs, line, dring)
    offset = measure(scene, needs, "x", "offset from plumb", fall.offset, "offset")
    anchor = measure(scene, needs, "h_A", "anchor height", fall.anchor_height, "anchor_height")
    value = needs.work(
        lambda: lanyard_free_fall_m(
            connector_m=line.value,
            offset_m=offset.value,
            anchor_height_m=anchor.value,
            dring_height_m=dring.value,
        )
    )
    return Working(value, "max(0, sqrt(l**2 - x**2) - (h_A - h_D0))", (line, offset, anchor, dring))


def _on_grab(scene: Scene, fall: Fall, needs: Needs, line: Quantity, dring: Quantity) -> Working:
    grab = measure(scene, needs, "h_g", "grab height", fall.grab_height, "grab_height")
    locking = measure(scene, needs, "d_lock", "grab slides", fall.grab_locking, "grab_locking")
    value = needs.work(
        lambda: rope_grab_free_fall_m(
            lanyard_m=line.value,
            grab_height_m=grab.value,
            dring_height_m=dring.value,
            locking_m=locking.value,
        )
    )
    return Working(value, "max(0, l - (h_g - h_D0)) + d_lock", (line, grab, dring, locking))


def peak_force(scene: Scene, fall: Fall, needs: Needs) -> Quantity:
    """The greatest force of the arrest: that of the absorber, or of the self-retracting device."""
    if fall.arrest != "self-retracting-line":
        key = scene.key("fall.absorber.peak")
        return needs.take("F_peak", "peak force of the absorber", fall.absorber.peak, Unit.N, key)
    device = scene.device(fall.device) if fall.device else None
    force = device.arrest_force if isinstance(device, SelfRetractingLine) else None
    key = f"device.{device.id}.arrest_force" if device else scene.key("fall.device")
    return needs.take("F_peak", "arrest force of the device", force, Unit.N, key)


def arrest_distance(scene: Scene, fall: Fall, needs: Needs) -> Quantity:
    """How far a self-retracting device lets the user go until it holds, as marked."""
    device = scene.device(fall.device) if fall.device else None
    arrest = device.arrest_distance if isinstance(device, SelfRetractingLine) else None
    key = f"device.{device.id}.arrest_distance" if device else scene.key("fall.device")
    return needs.take("a", "arrest distance", arrest, Unit.M, key)


def opening(scene: Scene, fall: Fall, needs: Needs) -> Working:
    """How far the absorber opens: it takes up the whole fall at its average force."""
    key = scene.key("fall.absorber.force")
    force = needs.take("F_avg", "average force of the absorber", fall.absorber.force, Unit.N, key)
    falling, weight = free_fall(scene, fall, needs), user_weight(scene)
    value = needs.work(
        lambda: absorber_travel_m(
            weight_n=weight.value, free_fall_m=falling.value, absorber_force_n=force.value
        )
    )
    w = derived(
        "W", "weight of user with tools", weight.value, Unit.N, weight.formula, weight.inputs
    )
    ff = derived("FF", "free fall", falling.value, Unit.M, falling.formula, falling.inputs)
    return Working(value, "W*FF/(F_avg - W)", (w, ff, force))


def deceleration(scene: Scene, fall: Fall) -> Quantity:
    """What to count: the longest the rule allows, or the absorber's opening if that is more."""
    limit = scene.limits.of("fall.deceleration").quantity
    needs = Needs()
    opens = opening(scene, fall, needs)
    if not needs.missing and not needs.refused and opens.value > limit.value:
        note = f"opening of the absorber, more than the limit of {limit.written}"
        return derived("DD", limit.label, opens.value, Unit.M, note, opens.inputs)
    return derived("DD", limit.label, limit.value, Unit.M, f"limit of {limit.written}")


def answered(
    rule: Rule,
    scene: Scene,
    needs: Needs,
    outcome: Callable[[], Compared],
    *,
    settle_by: Callable[[], str],
    keys: tuple[str, ...],
    about: str = "",
) -> Finding:
    """The finding of *rule*: unknown if anything is missing or refused, else what was compared."""
    said: Compared | Missing
    if needs.missing:
        said, advice, keys = Missing(because=needs.because), MEASURE, tuple(needs.missing)
    elif needs.refused:
        said, advice = Missing(because=needs.refused), needs.refused
    else:
        said, advice = outcome(), settle_by()
    return finding(rule, said, settle_by=advice, keys=keys, space=scene.space, about=about)
