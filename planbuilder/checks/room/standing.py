"""Every support that a way sets up: the one under its line, and the backup's where that is another.

The distance of a power line is stated from the middle of the first; another may stand nearer to
the line by as much as the two are apart.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from planbuilder.checks.asking import Needs
from planbuilder.checks.scene import Way, derived
from planbuilder.findings import Quantity, Unit
from planbuilder.site.rig import Rig
from planbuilder.site.supports import PORTABLE, Support, SupportKind

# What stands there already: nobody raises it, and it does not fall.
STANDS_THERE = (SupportKind.STRUCTURE, SupportKind.HORIZONTAL_LIFELINE)
_NO_ARM = (SupportKind.TRIPOD, *STANDS_THERE)


@dataclass(frozen=True, slots=True)
class Standing:
    """One support of a way, as it stands."""

    way: Way
    rig: Rig
    support: Support
    is_backup: bool

    @property
    def is_raised(self) -> bool:
        """True for what is put up here, and could fall."""
        return self.support.kind not in STANDS_THERE

    @property
    def about(self) -> str:
        """What its findings name it by."""
        return "backup support" if self.is_backup else ""

    @property
    def top_key(self) -> str:
        """The site-file key of its top."""
        return self.way.key("rig.backup_stand.top_height" if self.is_backup else "rig.top_height")

    def apart(self, needs: Needs) -> Quantity:
        """How far it stands from the support that the distance of a line is measured from."""
        label = "backup support from the first, in plan"
        if not self.is_backup:
            return derived("d_b", label, 0.0, Unit.M, "it is the first")
        key = self.way.key("rig.backup_stand.apart")
        return needs.take("d_b", label, self.rig.backup_stand.apart, Unit.M, key)

    def top(self, needs: Needs) -> Quantity:
        """Its highest point; a top that lies below its own hook is refused."""
        own, hook = self.rig.top_height, self.rig.hook_height
        if self.is_backup:
            own, hook = self.rig.backup_stand.top_height, None
        if own and hook and own.m < hook.m:
            needs.refused = "the top of the support cannot lie below its hook"
        return needs.take("h_t", "top of the support", own, Unit.M, self.top_key)

    def reach(self, needs: Needs) -> Quantity:
        """How far its arm reaches; nothing for what has no arm."""
        has_none = self.support.kind in _NO_ARM
        if has_none or (self.rig.pull_elevation is not None and not self.is_backup):
            return derived("R", "reach", 0.0, Unit.M, "it has no arm")
        if self.is_backup:
            key = self.way.key("rig.backup_stand.reach")
            return needs.take("R", "reach", self.rig.backup_stand.reach, Unit.M, key)
        return needs.take("R", "reach", self.rig.reach, Unit.M, self.way.key("rig.reach"))

    def base(self, needs: Needs) -> Quantity:
        """How far its farthest foot stands from the middle; nothing for what is fixed."""
        support, label = self.support, "farthest foot from the middle"
        feet = getattr(support, "feet", None)
        if feet:
            far_m = max(math.hypot(one.m, other.m) for one, other in feet)
            return derived("b", label, far_m, Unit.M, "feet of the support")
        name = "ring_radius" if support.kind is SupportKind.OPENING_COLLAR else "foot_radius"
        if support.kind in PORTABLE:
            radius, key = getattr(support, name, None), f"support.{support.id}.{name}"
            return needs.take("b", label, radius, Unit.M, key)
        return derived("b", label, 0.0, Unit.M, "it is fixed at its foot")


def standing(way: Way) -> Iterator[Standing]:
    """The supports that *way* sets up, the one under its line first."""
    rig = way.rig
    if rig is None:
        return
    yield Standing(way, rig, way.scene.support(rig.support), is_backup=False)
    if rig.backup_support not in (None, rig.support):
        yield Standing(way, rig, way.scene.support(rig.backup_support), is_backup=True)
