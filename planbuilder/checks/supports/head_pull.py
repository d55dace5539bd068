"""The pull at the head of a support: plumb, leaning as planned, or with a strand led off."""

from __future__ import annotations

from dataclasses import dataclass

from planbuilder.checks.asking import Needs
from planbuilder.checks.casualty import is_rope_hauled, led_share
from planbuilder.checks.scene import Way, derived, stated
from planbuilder.findings import Quantity, Unit
from planbuilder.haul.head_pull import HeadPull, head_pull, lead_angle_rad
from planbuilder.site.equipment import Winch


@dataclass(frozen=True, slots=True)
class Pulled:
    """The force of a load case at the head, with what turns it off plumb."""

    force: Quantity
    share: Quantity
    lean: Quantity
    lead: Quantity

    def at(self, head_m: float) -> HeadPull:
        """The pull at a head that stands *head_m* above the ground."""
        hanging_n = self.force.value / (1 + self.share.value)
        off = self.share.value > 0
        return head_pull(
            hanging_n=hanging_n,
            lean_rad=abs(self.lean.value),
            led_off_n=hanging_n * self.share.value,
            lead_rad=lead_angle_rad(height_m=head_m, lead_m=self.lead.value) if off else 0.0,
        )

    @property
    def plumb(self) -> bool:
        """Nothing turns the pull off plumb."""
        return self.lean.value == 0 and (self.share.value == 0 or self.lead.value == 0)

    @property
    def inputs(self) -> tuple[Quantity, ...]:
        """What there is to print: the force, and lean and lead where there are any."""
        lean = (self.lean,) if self.lean.value else ()
        return (self.force, *lean, *((self.share, self.lead) if self.share.value > 0 else ()))


def pulled(
    way: Way, case: str, force: Quantity, needs: Needs, *, lean: Quantity | None = None
) -> Pulled:
    """The pull of a load case; the lifting line is led off in the lift only, not in a catch."""
    none = derived("k_led", "strand led off over those that hang", 0.0, Unit.RATIO, "a catch")
    share = none if case == "LC2" else led_share(way)
    lead = derived("x", "lead from below the head", 0.0, Unit.M, "no strand is led off")
    if case != "LC2" and leads_off(way):
        amount = way.rig.lead_distance if way.rig else None
        key = way.key("rig.lead_distance")
        lead = needs.take("x", "lead from below the head", amount, Unit.M, key)
    return Pulled(force, share, lean or line_lean(way), lead)


def line_lean(way: Way) -> Quantity:
    """The lean of the line as the rig states it, else none."""
    own = way.rig.line_lean if way.rig else None
    if own is None:
        return derived("delta", "lean of the line", 0.0, Unit.RAD, "plumb: no lean is stated")
    return stated("delta", "lean of the line", own, Unit.RAD, way.key("rig.line_lean"))


def planned_lean(way: Way) -> Quantity:
    """The lean that load case LC4 plans for: the default, or more where the rig states more."""
    least, own = way.scene.defaults.of("planned-lean"), line_lean(way)
    return own if abs(own.value) > least.value else least


def leads_off(way: Way) -> bool:
    """A strand leaves the head: people haul it, or the winch stands elsewhere."""
    rig = way.rig
    if rig is None:
        return False
    elsewhere = rig.winch_on_leg is False and is_winch(way)
    return rig.lead_distance is not None or is_rope_hauled(way) or elsewhere


def is_winch(way: Way) -> bool:
    """The lifting device is a winch."""
    return way.rig is not None and isinstance(way.scene.device(way.rig.device), Winch)
