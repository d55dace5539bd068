"""A davit on a portable base as it stands: its bodies, its feet, the sweep of its swing."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.asking import Needs
from planbuilder.checks.scene import Scene, Way
from planbuilder.checks.supports.head_pull import Pulled
from planbuilder.findings import Unit
from planbuilder.haul.davit import Davit, Tilt
from planbuilder.haul.davit import Weight as Body
from planbuilder.haul.swing import Swept, sweep
from planbuilder.site.supports import LeggedBaseDavit


class Base:
    """A davit with everything that its stability needs, as far as the site file gives it."""

    def __init__(self, way: Way, support: LeggedBaseDavit) -> None:
        """Ask for masses, reach, hook height, swing and slope."""
        self.way, self.support, self.needs = way, support, Needs()
        key, take, rig = f"support.{support.id}", self.needs.take, way.rig
        self.needs.say(support.feet, f"{key}.feet")
        self.needs.say(support.base_centre, f"{key}.base_centre")
        self.base = take("m_base", "base", support.base_mass, Unit.KG, f"{key}.base_mass")
        self.mast = take("m_mast", "mast", support.mast_mass, Unit.KG, f"{key}.mast_mass")
        self.boom = take("m_boom", "boom", support.boom_mass, Unit.KG, f"{key}.boom_mass")
        self.reach = take("a", "reach", rig.reach if rig else None, Unit.M, way.key("rig.reach"))
        self.hook = take(
            "z_h",
            "hook height",
            rig.hook_height if rig else None,
            Unit.M,
            way.key("rig.hook_height"),
        )
        self.first = take(
            "alpha_1",
            "swing from",
            rig.swing_from if rig else None,
            Unit.RAD,
            way.key("rig.swing_from"),
        )
        self.last = take(
            "alpha_2", "swing to", rig.swing_to if rig else None, Unit.RAD, way.key("rig.swing_to")
        )
        stand = rig.stand if rig else None
        self.slope = take(
            "s", "slope", stand.slope if stand else None, Unit.RAD, way.key("rig.stand.slope")
        )
        self.towards_rad = stand.slope_towards.rad if stand and stand.slope_towards else 0.0

    @property
    def feet(self) -> tuple[tuple[float, float], ...]:
        """The feet, from the mast."""
        return tuple((x.m, y.m) for x, y in self.support.feet or ())

    def davit(self) -> Davit:
        """The bodies of the davit; people and loose weights never count."""
        x, y = self.support.base_centre or (None, None)
        fixed = [one for one in self.support.ballast if one.fixed]
        weights = [
            Body(mass_kg=self.base.value, at_m=(x.m if x else 0.0, y.m if y else 0.0, 0.0)),
            Body(mass_kg=self.mast.value, at_m=(0.0, 0.0, self.hook.value / 2)),
        ]
        weights += [
            Body(mass_kg=one.mass.kg, at_m=(one.at[0].m, one.at[1].m, 0.0)) for one in fixed
        ]
        return Davit(
            feet=self.feet,
            mast_m=(0.0, 0.0),
            reach_m=self.reach.value,
            hook_height_m=self.hook.value,
            swing_from_rad=self.first.value,
            swing_to_rad=self.last.value,
            weights=tuple(weights),
            boom_kg=self.boom.value,
            boom_arm_m=self.reach.value / 2,
            boom_height_m=self.hook.value,
        )

    def tilt(self, lean_rad: float, *, level: bool) -> Tilt:
        """The ground as it slopes, or *level*, with a line that leans."""
        slope_rad = 0.0 if level else self.slope.value
        return Tilt(slope_rad=slope_rad, slope_toward_rad=self.towards_rad, lean_rad=lean_rad)

    def swept(self, pulled: Pulled, *, level: bool) -> Swept:
        """The worst of the permitted swing."""
        pull, rear = pulled.at(self.hook.value), min(self.feet)
        return sweep(
            self.davit(),
            tilt=self.tilt(pull.lean_rad, level=level),
            line_force_n=pull.size_n,
            safety_factor=self.way.scene.defaults.of("base-factor").value,
            ballast_at_m=(rear[0], 0.0, 0.0),
        )


def sloped(way: Way, support: LeggedBaseDavit) -> Base:
    """The base on its slope, which falls in a direction of its own."""
    base, stand = Base(way, support), way.rig.stand if way.rig else None
    if stand and stand.slope and stand.slope.rad != 0:
        base.needs.say(stand.slope_towards, way.key("rig.stand.slope_towards"))
    return base


def davits(scene: Scene) -> Iterator[tuple[Way, LeggedBaseDavit]]:
    """The ways out that hang on a davit with a portable base."""
    for way in scene.ways():
        support = scene.support(way.rig.support) if way.rig else None
        if isinstance(support, LeggedBaseDavit):
            yield way, support
