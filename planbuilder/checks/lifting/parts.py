"""Strength from casualty to head: connectors and redirects; the line stands in `lines`.

Load cases: LC1 the lift, with its dynamic factor; LC2 the backup catches; LC3 the lift with a
second person on a line of the same head. LC4, slope and lean, stands with the supports. LC5, the
proof load, is 1.5 times the lift against 1.5 times the working load: it adds nothing to LC1.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from planbuilder.checks.asking import Needs, answer
from planbuilder.checks.casualty import (
    dynamic_factor,
    edge_load_factor,
    weight,
)
from planbuilder.checks.lifting.reeving import advantage_past
from planbuilder.checks.lifting.rope_systems import pulley_efficiency
from planbuilder.checks.scene import (
    Scene,
    Way,
    Working,
    derived,
    finding,
    output,
)
from planbuilder.findings import (
    Finding,
    Mark,
    Missing,
    Relation,
    Rule,
    Source,
    Stated,
    Unit,
    Weight,
)
from planbuilder.haul.redirect import redirect_force_raising_n
from planbuilder.haul.strength import breaking_needed_n, design_factor
from planbuilder.site.equipment import Winch
from planbuilder.site.rig import Link

PERSONS = Source(mark=Mark.READ, document="2006/42/EC", clause="Annex I 6.1.1, by analogy")
STATICS = Source(mark=Mark.DERIVED, document="Statics")
LINK = Rule(
    "haul/link-too-weak", "Connectors between casualty and anchorage", Weight.BLOCKS, PERSONS
)
LINKS = Rule(
    "haul/links-not-listed", "Connectors of the lifting line are listed", Weight.WARNS, PERSONS
)
REDIRECT = Rule("haul/redirect-overloaded", "Sheaves that turn the line", Weight.BLOCKS, STATICS)


def up_kn(force_n: float) -> str:
    """A force that is needed, rounded up to a tenth of a kilonewton."""
    return f"{math.ceil(force_n / 100) / 10:.1f} kN"


def check_links(scene: Scene) -> Iterator[Finding]:
    """Each connector holds the lift: by breaking strength with its factor, or by its rating."""
    for way in scene.ways():
        if way.rig is None:
            continue
        listed = bool(way.rig.link)
        words = ", ".join(one.name for one in way.rig.link)
        yield finding(
            LINKS,
            Stated(holds=True, because=words) if listed else Missing(because="none is listed"),
            settle_by="List hook, connectors and slings between casualty and anchorage, each "
            "with breaking strength or rating.",
            keys=(way.key("rig.link"),),
            space=scene.space,
            about=way.name,
        )
        yield from (_link(way, number, one) for number, one in enumerate(way.rig.link, 1))


def _link(way: Way, number: int, link: Link) -> Finding:
    needs, key = Needs(), way.key(f"rig.link.{number}")
    load, psi = weight(way), dynamic_factor(way)
    if link.breaking is None:
        rated = needs.take(
            "F_rated", f"rating of {link.name}", link.rated_load, Unit.N, f"{key}.rated_load"
        )
        working = Working(load.value, "W", (load,))
        relation, limit, result = Relation.AT_MOST, rated, output("F", "load, LC1", Unit.N)
        enough = f"rated for {up_kn(load.value)}"
    else:
        factor = way.scene.defaults.of("factor-hardware")
        breaks = needs.take(
            "F_break", f"breaking strength of {link.name}", link.breaking, Unit.N, f"{key}.breaking"
        )
        value = design_factor(
            breaking_n=breaks.value, efficiency=1.0, tension_n=load.value * psi.value
        )
        working = Working(value, "F_break/(W*psi)", (breaks, load, psi))
        relation, limit = Relation.AT_LEAST, factor
        result = output("f", "design factor, LC1", Unit.RATIO)
        needed_n = breaking_needed_n(
            tension_n=load.value * psi.value, factor=factor.value, efficiency=1.0
        )
        enough = f"that breaks at {up_kn(needed_n)}"
    return answer(
        LINK,
        way,
        needs,
        partial(working.against, relation, limit, result=result),
        settle_by=f"Use a part {enough} or more instead of {link.name}.",
        keys=(key,),
        about=link.name,
    )


def check_redirects(scene: Scene) -> Iterator[Finding]:
    """A sheave that turns the line carries up to twice the pull, not the pull."""
    for way in scene.ways():
        if way.rig is None:
            continue
        for number, one in enumerate(way.rig.redirect, 1):
            needs, key = Needs(), way.key(f"rig.redirect.{number}")
            device = scene.device(way.rig.device)
            head = 1 if isinstance(device, Winch) else 0
            line = advantage_past(way, device, head + number - 1)
            rating = needs.take(
                "F_rated", "rating of sheave and anchor", one.rating, Unit.N, f"{key}.rating"
            )
            edges = needs.keep(edge_load_factor(way), way.key("rig.edges"))
            load, eta = weight(way), pulley_efficiency(scene, device)
            value = needs.work(
                lambda: redirect_force_raising_n(
                    load_side_n=load.value * edges.value / line.value,
                    efficiency=eta.value,
                    between_rad=one.angle.rad,
                )
            )
            note = "resultant of both strands, the hauled one greater by the sheave's friction"
            force = derived(
                "R",
                f"force on a sheave with {one.angle.written} between the strands",
                value,
                Unit.N,
                note,
            )
            working = Working(value, "R", (force, load, edges, line, eta))
            yield answer(
                REDIRECT,
                way,
                needs,
                partial(
                    working.against,
                    Relation.AT_MOST,
                    rating,
                    result=output("R", "force on the redirect", Unit.N),
                ),
                settle_by="Use a stronger sheave and anchor, or open the angle of the redirect.",
                keys=(f"{key}.rating",),
                about=f"redirect {number}",
            )
