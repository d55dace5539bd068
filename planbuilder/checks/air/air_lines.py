"""Air lines and the escape sets that go with them."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.air.breathing import has_bad_air, mission, or_steps, time_keys, worn
from planbuilder.checks.asking import Needs, compare
from planbuilder.checks.scene import Scene, Way, Working, derived, finding, stated
from planbuilder.findings import (
    Finding,
    Mark,
    Missing,
    Quantity,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.response.air import lasts_s, rated_volume_m3
from planbuilder.site.air import EscapeAir, LineAir
from planbuilder.site.equipment import Equipment

NO_ESCAPE = Rule(
    "response/air-line-without-escape",
    "Escape set with an air line in bad air",
    Weight.BLOCKS,
    Source(mark=Mark.RECALLED, document="29 CFR 1910.134", clause="(d)(2)(i)"),
)
ESCAPE = Rule(
    "response/escape-set-too-small",
    "Air of the escape set for the way out alone",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="once and a half the way out, at the breathing of an escape"),
)
HOSE = Rule(
    "response/air-line-too-long",
    "Hose of the air line within its approval",
    Weight.BLOCKS,
    Source(mark=Mark.RECALLED, document="42 CFR 84", note="the approval of the line governs"),
)
FLOW = Rule(
    "response/air-line-flow",
    "Flow to each user of the air line",
    Weight.BLOCKS,
    Source(mark=Mark.RECALLED, document="42 CFR 84", note="tight-fitting facepiece"),
)


def check_escape_worn(scene: Scene) -> Iterator[Finding]:
    """In bad air nobody depends on a hose alone."""
    for way, item in worn(scene):
        if not isinstance(item.air, LineAir) or not has_bad_air(scene):
            continue
        name = way.method.air.escape_set
        outcome: Stated | Missing = Missing(because="no escape set is named for the air line")
        if name is not None:
            outcome = Stated(holds=True, because=scene.equipment(name).name)
        yield finding(
            NO_ESCAPE,
            outcome,
            settle_by="Name the escape set that each user of the line carries, and state its air.",
            keys=(way.key("air.escape_set"),),
            space=scene.space,
            about=way.name,
        )


def check_escape_lasts(scene: Scene) -> Iterator[Finding]:
    """An escape set lasts for more than the way out."""
    for way, _ in worn(scene):
        if way.method.air.escape_set is not None:
            yield or_steps(_escape(way, scene.equipment(way.method.air.escape_set)))


def _escape(way: Way, item: Equipment) -> Finding:
    needs, defaults = Needs(), way.scene.defaults
    rate, over = defaults.of("air-rate-escape"), defaults.of("escape-reserve")
    volume = _escape_air(way, item, needs)
    out = _alone(way, needs)
    limit = derived(
        "t_need", "way out alone, with reserve", over.value * out.value, Unit.S,
        f"k_esc*t_esc, {out.value:.0f} s", (over, out),
    )  # fmt: skip
    return compare(
        ESCAPE,
        way,
        needs,
        lambda: Working(
            lasts_s(volume_m3=volume.value, rate_m3_per_s=rate.value),
            "V_esc/q_esc",
            (volume, rate),
        ),
        Relation.AT_LEAST,
        limit,
        result=("t", "air of the escape set", Unit.S),
        settle_by=_enough(rate.value * limit.value),
        keys=(f"equipment.{item.id}.air", *_ways_out(way)),
    )


def _enough(volume_m3: float) -> str:
    litres = f" of {volume_m3 * 1e3:.0f} L free air or more" if volume_m3 > 0 else ""
    return f"Carry an escape set{litres}, or shorten the way out."


def _ways_out(way: Way) -> tuple[str, ...]:
    own = way.key("air.time_escape")
    return (own,) if way.method.air.time_escape is not None else (own, *time_keys(way, "out"))


def _alone(way: Way, needs: Needs) -> Quantity:
    """The time of the way out alone: as stated, or else that with the casualty."""
    said = way.method.air.time_escape
    if said is not None:
        return stated("t_esc", "way out alone", said, Unit.S, way.key("air.time_escape"))
    return mission(way, needs).time_out


def _escape_air(way: Way, item: Equipment, needs: Needs) -> Quantity:
    """Free air of an escape set: as marked, or its marked minutes; the less of both."""
    key, air = f"equipment.{item.id}.air", item.air
    found = []
    if isinstance(air, EscapeAir) and air.rated_volume is not None:
        found.append(
            stated("V_esc", "free air as marked", air.rated_volume, Unit.M3, f"{key}.rated_volume")
        )
    if isinstance(air, EscapeAir) and air.rated_time is not None:
        rate = way.scene.defaults.of("air-rate-rated")
        marked = stated("t_rated", "marked time", air.rated_time, Unit.S, f"{key}.rated_time")
        value = rated_volume_m3(rated_s=marked.value, rate_m3_per_s=rate.value)
        found.append(
            derived("V_esc", "free air by marked time", value, Unit.M3, "q_40*t_rated",
                    (rate, marked))
        )  # fmt: skip
    least = min(found, key=lambda one: one.value) if found else None
    return needs.keep(least, f"{key}.rated_volume")


def check_hose(scene: Scene) -> Iterator[Finding]:
    """The hose is no longer than an approval allows."""
    for way, item in worn(scene):
        if isinstance(item.air, LineAir):
            needs, key = Needs(), f"equipment.{item.id}.air.hose_length"
            hose = needs.take("l_hose", "hose", item.air.hose_length, Unit.M, key)
            yield compare(
                HOSE,
                way,
                needs,
                lambda: Working(hose.value, "l_hose", (hose,)),
                Relation.AT_MOST,
                scene.defaults.of("air-line-hose"),
                result=("l", "hose of the air line", Unit.M),
                settle_by="Bring the supply nearer, or wear sets.",
                keys=(key,),
            )


def check_flow(scene: Scene) -> Iterator[Finding]:
    """Each user gets at least the flow that an approval asks for."""
    for way, item in worn(scene):
        if isinstance(item.air, LineAir):
            needs, key = Needs(), f"equipment.{item.id}.air.flow"
            flow = needs.take("q_line", "flow to one user", item.air.flow, Unit.M3_PER_S, key)
            yield compare(
                FLOW,
                way,
                needs,
                lambda: Working(flow.value, "q_line", (flow,)),
                Relation.AT_LEAST,
                scene.defaults.of("air-line-flow"),
                result=("q", "flow to one user", Unit.M3_PER_S),
                settle_by="Set the supply to the pressure and hose of its approval.",
                keys=(key,),
            )
