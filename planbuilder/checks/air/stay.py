"""A space that nobody ventilates: how long the air lasts for those inside."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planbuilder.checks.air.atmosphere import judged, volume
from planbuilder.checks.asking import Needs
from planbuilder.checks.scene import Scene, Working, output
from planbuilder.findings import (
    Finding,
    Mark,
    Quantity,
    Relation,
    Rule,
    Source,
    Unit,
    Weight,
)
from planbuilder.response.release import carbon_dioxide_built_up_s, oxygen_used_s

USED_UP = Rule(
    "response/oxygen-used-up",
    "Longest stay in a space without ventilation",
    Weight.NOTES,
    Source(mark=Mark.DERIVED, note="if no air comes in; carbon dioxide comes before lack of air"),
)


def check_stay(scene: Scene) -> Iterator[Finding]:
    """Without ventilation, what people breathe out and use up bounds their stay. A note."""
    shape, key = scene.space.shape, scene.key("task.longest_stay")
    known = shape.volume is not None or shape.inside_height is not None
    if scene.space.ventilation is not None or not scene.space.is_confined or not known:
        return
    needs = Needs()
    space = volume(scene, needs, free=True)
    people = needs.number(
        "n", "people inside", scene.inside_at_once, Unit.COUNT, scene.key("task.inside_at_once")
    )
    working = needs.work(lambda: _stay(scene, space, people).value)
    stay = needs.take("t_s", "longest stay", scene.space.task.longest_stay, Unit.S, key)
    number = f", shorter than {working / 60:.0f} min" if working > 0 else ""
    yield judged(
        scene,
        USED_UP,
        needs,
        lambda: _stay(scene, space, people).against(
            Relation.AT_LEAST,
            stay,
            result=output("t", "time until the air is spent, if none comes in", Unit.S),
        ),
        settle_by=f"Ventilate, or state and keep a longest stay{number}.",
        keys=(key,),
    )


def _stay(scene: Scene, space: Quantity, people: Quantity) -> Working:
    defaults = scene.defaults
    uptake, given_off = defaults.of("oxygen-uptake"), defaults.of("carbon-dioxide-output")
    most, least = defaults.of("carbon-dioxide-limit"), scene.limits.of("atmosphere.o2_min").quantity
    spoilt_s = carbon_dioxide_built_up_s(
        volume_m3=space.value,
        people=people.value,
        output_m3_per_s=given_off.value,
        carbon_dioxide=most.value,
    )
    used_s = oxygen_used_s(
        volume_m3=space.value,
        people=people.value,
        uptake_m3_per_s=uptake.value,
        oxygen=least.value,
    )
    return Working(
        min(spoilt_s, used_s),
        "min(V*(C_most - 0.0004)/(n*v_CO2), V*(0.209 - O_least)/(n*v_O2))",
        (space, people, given_off, uptake, most, replace(least, symbol="O_least")),
    )
