"""Does a davit on a portable base stand: moments, slope and lean, ballast, feet on the ground."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.asking import Needs, answer, compare
from planbuilder.checks.casualty import load_cases, weight
from planbuilder.checks.scene import Scene, Way, Working, derived, stated
from planbuilder.findings import (
    Finding,
    Mark,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.haul.davit import Davit, Tilt
from planbuilder.haul.davit import Weight as Body
from planbuilder.haul.legs import GROUNDS, greatest_reactions_n, pad_pressure_pa
from planbuilder.haul.load import weight_n
from planbuilder.haul.mast import mast_moment_nm, socket_forces
from planbuilder.haul.stability import Force, centre_of_pressure_m
from planbuilder.haul.swing import Swept, sweep
from planbuilder.site.space import Ground
from planbuilder.site.supports import LeggedBaseDavit

STATICS = Source(mark=Mark.DERIVED, document="Statics")
TIPS = Rule("haul/base-tips", "Moments about the edges of the base", Weight.BLOCKS, STATICS)
LEAN = Rule("haul/lean-uses-margin", "Base under slope and a leaning line", Weight.WARNS, STATICS)
ON_SLOPE = Rule("haul/base-tips-on-slope", "Base on its slope", Weight.BLOCKS, STATICS)
SOCKET = Rule("haul/socket-overloaded", "Socket of the mast", Weight.BLOCKS, STATICS)
LOOSE = Rule("haul/loose-ballast", "Ballast fixed to the base", Weight.BLOCKS, STATICS)
PADS = Rule(
    "haul/pad-pressure",
    "Feet of the base on the ground",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="IBC 2012", clause="Table 1806.2"),
)
EDGE = Rule("haul/foot-near-edge", "Feet away from an excavation edge", Weight.BLOCKS, STATICS)
_GROUNDS = {
    Ground.ROCK: "crystalline-rock",
    Ground.SEDIMENTARY_ROCK: "sedimentary-rock",
    Ground.GRAVEL: "gravel",
    Ground.SAND: "sand",
    Ground.CLAY: "clay-or-silt",
    Ground.SOFT: "very-soft-clay-or-loose-fill",
    Ground.CONCRETE: "sand",  # a slab is judged as if it lay on sand and spread nothing
}


class _Base:
    """A davit with everything that its stability needs, as far as the site file gives it."""

    def __init__(self, way: Way, support: LeggedBaseDavit) -> None:
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

    def swept(self, load_n: float, *, slope_rad: float, lean_rad: float) -> Swept:
        """The worst of the permitted swing."""
        rear = min(self.feet)
        return sweep(
            self.davit(),
            tilt=Tilt(slope_rad=slope_rad, slope_toward_rad=self.towards_rad, lean_rad=lean_rad),
            line_force_n=load_n,
            safety_factor=self.way.scene.defaults.of("base-factor").value,
            ballast_at_m=(rear[0], 0.0, 0.0),
        )


def _davits(scene: Scene) -> Iterator[tuple[Way, LeggedBaseDavit]]:
    for way in scene.ways():
        support = scene.support(way.rig.support) if way.rig else None
        if isinstance(support, LeggedBaseDavit):
            yield way, support


def check_base_moments(scene: Scene) -> Iterator[Finding]:
    """Own weight and fixed ballast hold the tipping moment with a factor, on level ground."""
    factor = scene.defaults.of("base-factor")
    for way, support in _davits(scene):
        base, (_, force) = _Base(way, support), next(load_cases(way))
        advice = "Shorten the reach, or fix ballast to the base."
        if not base.needs.missing:
            swept = _or_none(base, force.value)
            advice = _advice(swept) if swept else advice

        def working() -> Working:
            swept = base.swept(force.value, slope_rad=0.0, lean_rad=0.0)
            value = min(swept.moment_factor, 1e6)
            note = (
                "load line inside at every permitted angle: the load cannot tip the base"
                if swept.line_inside
                else f"worst at {math.degrees(swept.factor_at_rad):.0f} degrees of swing"
            )
            moments = derived(
                "SF_e", "stabilising over overturning moment", value, Unit.RATIO, note
            )
            bodies = (base.base, base.mast, base.boom, base.reach, force)
            return Working(value, "SF_e", (moments, *bodies))

        yield compare(
            TIPS,
            way,
            base.needs,
            working,
            Relation.AT_LEAST,
            factor,
            result=("SF_e", "moment factor, LC1", Unit.RATIO),
            settle_by=advice,
            keys=(f"support.{support.id}.ballast", way.key("rig.reach")),
        )


def check_socket(scene: Scene) -> Iterator[Finding]:
    """The two bearings of the mast hold the moment of boom and load as a couple."""
    for way, support in _davits(scene):
        if support.socket_rating is None:
            continue  # part of a marked davit: its rating covers the socket it came with
        key, needs = f"support.{support.id}", Needs()
        rating = needs.take(
            "R_s", "rating of the socket", support.socket_rating, Unit.N, f"{key}.socket_rating"
        )
        depth = needs.take(
            "s", "spacing of the bearings", support.socket_depth, Unit.M, f"{key}.socket_depth"
        )
        boom = needs.take("m_boom", "boom", support.boom_mass, Unit.KG, f"{key}.boom_mass")
        reach = needs.take(
            "a", "reach", way.rig.reach if way.rig else None, Unit.M, way.key("rig.reach")
        )
        for case, force in load_cases(way):
            yield compare(
                SOCKET,
                way,
                needs,
                lambda: _couple(force, reach, boom, depth),
                Relation.AT_MOST,
                rating,
                result=("R", f"push of a bearing on the mast, {case}", Unit.N),
                settle_by="Shorten the reach, or use a davit with a deeper socket.",
                keys=(f"{key}.socket_rating", way.key("rig.reach")),
                about=case,
            )


def _couple(force: Quantity, reach: Quantity, boom: Quantity, depth: Quantity) -> Working:
    moment_nm = mast_moment_nm(
        line_force_n=force.value,
        lean_rad=0.0,
        reach_m=reach.value,
        boom_weight_n=weight_n(boom.value),
        boom_arm_m=reach.value / 2,
        head_height_m=0.0,
    )
    value = socket_forces(
        moment_nm=moment_nm, level_pull_n=0.0, bearing_spacing_m=depth.value
    ).top_n
    own = derived("W_b", "weight of the boom", weight_n(boom.value), Unit.N, "at half the reach")
    return Working(value, "(F*a + W_b*a/2)/s", (force, reach, own, depth))


def _or_none(base: _Base, load_n: float) -> Swept | None:
    try:
        return base.swept(load_n, slope_rad=0.0, lean_rad=0.0)
    except ValueError:
        return None


def _advice(swept: Swept) -> str:
    """The smallest changes that clear it, from the same statics."""
    reach = f"shorten the reach to {swept.inside_reach_m:.2f} m" if swept.inside_reach_m else ""
    ballast = (
        f"fix {math.ceil(swept.ballast_kg):.0f} kg of ballast at the rear feet"
        if 0 < swept.ballast_kg < math.inf
        else ""
    )
    words = " or ".join(one for one in (reach, ballast) if one) or "use another support"
    return f"{words[0].upper()}{words[1:]}. People standing on the base never count."


def check_slope(scene: Scene) -> Iterator[Finding]:
    """The base stands on the slope it is on, with the line as it leans: own weight holds it."""
    edge = derived("m_0", "edge of the base", 0.0, Unit.M, "centre of pressure over the edge")
    for way, support in _davits(scene):
        base, (_, force) = _sloped(way, support), next(load_cases(way))
        own = way.rig.line_lean if way.rig else None
        plumb = derived("l", "lean of the line", 0.0, Unit.RAD, "plumb: no lean is stated")
        key = way.key("rig.line_lean")
        lean = stated("l", "lean of the line", own, Unit.RAD, key) if own else plumb
        yield _pressed(base, ON_SLOPE, force, lean, edge, "LC1")


def check_lean(scene: Scene) -> Iterator[Finding]:
    """Slope and a line that leans as far as planned for use up the margin: load case LC4."""
    least, lean = scene.defaults.of("base-margin"), scene.defaults.of("planned-lean")
    for way, support in _davits(scene):
        yield _pressed(_sloped(way, support), LEAN, weight(way), lean, least, "LC4")


def _sloped(way: Way, support: LeggedBaseDavit) -> _Base:
    """The base on its slope, which falls in a direction of its own."""
    base, stand = _Base(way, support), way.rig.stand if way.rig else None
    if stand and stand.slope and stand.slope.rad != 0:
        base.needs.say(stand.slope_towards, way.key("rig.stand.slope_towards"))
    return base


def _pressed(
    base: _Base, rule: Rule, load: Quantity, lean: Quantity, least: Quantity, case: str
) -> Finding:
    def working() -> Working:
        swept = base.swept(load.value, slope_rad=base.slope.value, lean_rad=abs(lean.value))
        note = f"centre of pressure, worst at {math.degrees(swept.margin_at_rad):.0f} degrees"
        margin = derived("m_c", "centre of pressure inside", swept.margin_m, Unit.M, note)
        return Working(
            swept.margin_m, "m_c", (margin, base.slope, lean, base.hook, base.reach, load)
        )

    return compare(
        rule,
        base.way,
        base.needs,
        working,
        Relation.AT_LEAST,
        least,
        result=("m", f"centre of pressure inside the base, {case}", Unit.M),
        settle_by="Level the base, keep the line plumb, lower the hook or shorten the reach.",
        keys=(base.way.key("rig.stand.slope"), base.way.key("rig.reach")),
    )


def check_ballast(scene: Scene) -> Iterator[Finding]:
    """Ballast that is not fixed does not count, and must not be counted on."""
    for way, support in _davits(scene):
        if not support.ballast:
            continue
        loose = sum(not one.fixed for one in support.ballast)
        words = f"{loose} loose weights" if loose else "every ballast weight is fixed"
        yield answer(
            LOOSE,
            way,
            Needs(),
            lambda: Stated(holds=not loose, because=words),
            settle_by="Fix the ballast to the base, or take it off the plan.",
            keys=(f"support.{support.id}.ballast",),
        )


def check_pads(scene: Scene) -> Iterator[Finding]:
    """The foot that carries most, on uneven ground, does not press through the ground."""
    for way, support in _davits(scene):
        base, needs, key = _Base(way, support), None, f"support.{support.id}"
        needs = base.needs
        width = needs.take("b", "pad width", support.pad_width, Unit.M, f"{key}.pad_width")
        length = needs.take("l", "pad length", support.pad_length, Unit.M, f"{key}.pad_length")
        ground = way.rig.stand.ground if way.rig else None
        needs.say(ground, way.key("rig.stand.ground"))
        bearing = GROUNDS[_GROUNDS[ground]] if ground else GROUNDS["sand"]
        _, force = next(load_cases(way))

        def working() -> Working:
            most_n = _greatest_reaction_n(base, force.value)
            area_m2 = width.value * length.value
            note = "greatest over all sharings of uneven feet, over the permitted swing"
            most = derived("R_max", "greatest foot reaction", most_n, Unit.N, note)
            value = pad_pressure_pa(reaction_n=most_n, area_m2=area_m2)
            return Working(value, "R_max/(b*l)", (most, width, length, force))

        allowed = Quantity(
            symbol="q_a",
            label=f"bearing pressure of {ground or 'the ground'}",
            value=bearing.bearing_pa,
            unit=Unit.PA,
            source=Source(mark=Mark.READ, document="IBC 2012", clause="Table 1806.2"),
        )
        yield compare(
            PADS,
            way,
            needs,
            working,
            Relation.AT_MOST,
            allowed,
            result=("q", "pressure under the foot that carries most", Unit.PA),
            settle_by="Put larger pads or boards under the feet, or find firmer ground.",
            keys=(f"{key}.pad_width", way.key("rig.stand.ground")),
        )
        yield from _near_edge(way)


def _greatest_reaction_n(base: _Base, load_n: float) -> float:
    davit = base.davit()
    worst = 0.0
    steps = 36
    span = base.last.value - base.first.value
    for step in range(steps + 1):
        at_rad = base.first.value + span * step / steps
        hook = davit.hook_m(at_rad)
        bodies = [(one.mass_kg, one.at_m) for one in davit.weights]
        bodies.append((davit.boom_kg, davit.point_m(davit.boom_arm_m, davit.boom_height_m, at_rad)))
        forces = [Force(at_m=at, force_n=(0.0, 0.0, -weight_n(mass))) for mass, at in bodies]
        forces.append(Force(at_m=hook, force_n=(0.0, 0.0, -load_n)))
        total_n = -sum(one.force_n[2] for one in forces)
        centre = centre_of_pressure_m(forces)
        worst = max(worst, *greatest_reactions_n(feet=davit.feet, load_n=total_n, centre_m=centre))
    return worst


def _near_edge(way: Way) -> Iterator[Finding]:
    stand = way.rig.stand if way.rig else None
    if stand is None or stand.edge_distance is None:
        return  # no excavation beside the base was stated
    needs, key = Needs(), way.key("rig.stand.edge_distance")
    distance = needs.take("c", "foot to excavation edge", stand.edge_distance, Unit.M, key)
    yield compare(
        EDGE,
        way,
        needs,
        lambda: Working(distance.value, "c", (distance,)),
        Relation.AT_LEAST,
        way.scene.defaults.of("pad-edge-distance"),
        result=("c", "foot to excavation edge", Unit.M),
        settle_by="Move the base away from the edge, or have the edge judged by an engineer.",
        keys=(key,),
    )
