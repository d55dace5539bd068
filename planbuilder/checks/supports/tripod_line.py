"""Where the line of a tripod may go: how far it is led off the head, how far it may lean."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planbuilder.checks.asking import Needs, answer, compare
from planbuilder.checks.casualty import load_cases
from planbuilder.checks.scene import Scene, Working, derived
from planbuilder.checks.supports.head_pull import leads_off, planned_lean, pulled
from planbuilder.checks.supports.tripod_legs import tripods
from planbuilder.findings import Finding, Mark, Relation, Rule, Source, Stated, Unit, Weight
from planbuilder.haul.tripod import largest_lead_m, lean_offset_m

STATICS = Source(mark=Mark.DERIVED, document="Statics")
LED_OFF = Rule("haul/tripod-line-led-off", "Line led off the tripod", Weight.BLOCKS, STATICS)
TOO_WEAK = "the strand led off pulls too little to lift a foot from any distance"
LEAN = Rule("haul/tripod-lean", "Tripod under slope and a leaning line", Weight.WARNS, STATICS)


def check_led_off(scene: Scene) -> Iterator[Finding]:
    """A strand led off the head to the ground stays near enough not to tip the tripod."""
    for way, legs in tripods(scene):
        if not leads_off(way):
            continue
        needs, (case, force) = Needs(), next(load_cases(way))
        needs.also(legs.needs)
        pull, key = pulled(way, case, force, needs), way.key("rig.lead_distance")
        most_m = needs.work(
            lambda: largest_lead_m(
                height_m=legs.head[2],
                largest_lean_rad=legs.largest_lean_rad,
                led_share=pull.share.value,
            )
        )
        if most_m == math.inf:
            yield answer(
                LED_OFF,
                way,
                needs,
                lambda: Stated(holds=True, because=TOO_WEAK),
                settle_by="Nothing; the haul strand may go any way.",
                keys=(key,),
            )
            continue
        note = "largest lead in any direction: no foot lifts"
        yield compare(
            LED_OFF,
            way,
            needs,
            lambda: Working(pull.lead.value, "x", (pull.lead,)),
            Relation.AT_MOST,
            derived("x_max", "largest lead distance", most_m, Unit.M, note),
            result=("x", "lead of the line from below the head", Unit.M),
            settle_by=f"Lead the line at most {most_m:.2f} m off, down a leg, or guy the head."
            if math.isfinite(most_m)
            else "Measure where the strand that leaves the head goes, or lead it down a leg.",
            keys=(key,),
        )


def check_tripod_lean(scene: Scene) -> Iterator[Finding]:
    """Load case LC4: the planned lean, on the ground as it is, leaves a margin between the feet."""
    margin = scene.defaults.of("base-margin")
    for way, legs in tripods(scene):
        needs, (case, force) = Needs(), next(load_cases(way))
        needs.also(legs.needs)
        lean = planned_lean(way)
        pull = pulled(way, case, force, needs, lean=lean)

        def working() -> Working:
            height_m = legs.head[2]
            most_m = lean_offset_m(height_m=height_m, lean_rad=legs.largest_lean_rad)
            off_m = lean_offset_m(height_m=height_m, lean_rad=pull.at(height_m).lean_rad)
            note = "offset at which a foot lifts, toward the worst side, feet where they stand"
            most = derived("e_max", "largest offset on the ground", most_m, Unit.M, note)
            off = derived("e", "offset of the leaning pull", off_m, Unit.M, "z_head*tan(lean)")
            size = (legs.length, legs.circle)
            return Working(most_m - off_m, "e_max - e", (most, off, *size, *pull.inputs))

        yield compare(
            LEAN,
            way,
            needs,
            working,
            Relation.AT_LEAST,
            margin,
            result=("m", "pull inside the feet, LC4", Unit.M),
            settle_by="Level the feet, spread the legs, or keep the line plumb with a tag line.",
            keys=(way.key("rig.foot_levels"), way.key("rig.line_lean")),
        )
