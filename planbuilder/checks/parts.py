"""Strength from casualty to head: connectors, line, redirects.

Load cases: LC1 the lift, with its dynamic factor; LC2 the backup catches; LC3 the lift with a
second person on a line of the same head. LC4, slope and lean, stands with the supports. LC5, the
proof load, is 1.5 times the lift against 1.5 times the working load: it adds nothing to LC1.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from planbuilder.checks.asking import Needs, answer
from planbuilder.checks.casualty import (
    dynamic_factor,
    edge_load_factor,
    weight,
)
from planbuilder.checks.raise_time import line_parts
from planbuilder.checks.scene import (
    AnyDevice,
    Scene,
    Way,
    Working,
    derived,
    finding,
    output,
)
from planbuilder.findings import (
    Compared,
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
from planbuilder.haul.strength import bending_efficiency, design_factor
from planbuilder.site.equipment import SelfRetractingLine, Winch
from planbuilder.site.space import Link

PERSONS = Source(mark=Mark.READ, document="2006/42/EC", clause="Annex I 6.1.1, by analogy")
STATICS = Source(mark=Mark.DERIVED, document="Statics")
LINK = Rule(
    "haul/link-too-weak", "Connectors between casualty and anchorage", Weight.BLOCKS, PERSONS
)
LINKS = Rule(
    "haul/links-not-listed", "Connectors of the lifting line are listed", Weight.WARNS, PERSONS
)
LINE = Rule("haul/line-too-weak", "Strength of the line as rigged", Weight.BLOCKS, PERSONS)
LINE_STATED = Rule(
    "haul/line-strength-not-stated",
    "Breaking strength, termination and bend of the line",
    Weight.WARNS,
    PERSONS,
)
REDIRECT = Rule("haul/redirect-overloaded", "Sheaves that turn the line", Weight.BLOCKS, STATICS)


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
    return answer(
        LINK,
        way,
        needs,
        partial(working.against, relation, limit, result=result),
        settle_by=f"Use a stronger part instead of {link.name}.",
        keys=(key,),
        about=link.name,
    )


def check_line_strength(scene: Scene) -> Iterator[Finding]:
    """The line holds the lift with termination and bending taken off, by its design factor."""
    for way in scene.ways():
        if way.rig is None:
            continue
        device, key = scene.device(way.rig.device), f"device.{way.rig.device}"
        own_line = isinstance(device, Winch | SelfRetractingLine)
        if device.line_breaking is None and own_line:
            # Its rating for people covers the line it came with; a rope is chosen apart.
            yield finding(
                LINE_STATED,
                Missing(because=f"{device.name}: breaking strength of the line not given"),
                settle_by="State line_breaking, termination, sheave_diameter and line_diameter.",
                keys=(f"{key}.line_breaking",),
                space=scene.space,
                about=way.name,
            )
            continue
        if own_line:
            yield finding(
                LINE_STATED,
                Stated(holds=True, because=f"{device.name}: stated"),
                settle_by="Nothing; renew the figures when the line is replaced.",
                keys=(f"{key}.line_breaking",),
                space=scene.space,
                about=way.name,
            )
        yield _line(way, device, key)


def _line(way: Way, device: AnyDevice, key: str) -> Finding:
    needs = Needs()
    breaks = needs.take(
        "F_break", "breaking strength", device.line_breaking, Unit.N, f"{key}.line_breaking"
    )
    end = needs.number(
        "E_term", "kept at the termination", device.termination, Unit.RATIO, f"{key}.termination"
    )
    sheave = needs.take("D", "sheave", device.sheave_diameter, Unit.M, f"{key}.sheave_diameter")
    line = needs.take("d", "line", device.line_diameter, Unit.M, f"{key}.line_diameter")
    edges = needs.keep(edge_load_factor(way), way.key("rig.edges"))
    load, psi, factor = weight(way), dynamic_factor(way), way.scene.defaults.of("factor-line")
    parts = line_parts(device)

    def outcome() -> Compared:
        bend = bending_efficiency(sheave_diameter_m=sheave.value, line_diameter_m=line.value)
        value = design_factor(
            breaking_n=breaks.value,
            efficiency=min(end.value, bend),
            tension_n=load.value * psi.value * edges.value / parts.value,
        )
        formula = "F_break*min(E_term, 1 - 0.5/sqrt(D/d))*n_parts/(W*psi*k_edge)"
        inputs = (breaks, end, sheave, line, parts, load, psi, edges)
        result = output("f", "design factor of the line, LC1", Unit.RATIO)
        return Working(value, formula, inputs).against(Relation.AT_LEAST, factor, result=result)

    return answer(
        LINE,
        way,
        needs,
        outcome,
        settle_by="Fit a stronger line, a larger sheave or a better termination.",
        keys=(f"{key}.line_breaking",),
    )


def check_redirects(scene: Scene) -> Iterator[Finding]:
    """A sheave that turns the line carries up to twice the pull, not the pull."""
    for way in scene.ways():
        for number, one in enumerate(way.rig.redirect if way.rig else (), 1):
            needs, key = Needs(), way.key(f"rig.redirect.{number}")
            rating = needs.take(
                "F_rated", "rating of sheave and anchor", one.rating, Unit.N, f"{key}.rating"
            )
            edges = needs.keep(edge_load_factor(way), way.key("rig.edges"))
            load, eta = weight(way), scene.defaults.of("pulley-efficiency")
            value = needs.work(
                lambda: redirect_force_raising_n(
                    load_side_n=load.value * edges.value,
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
            working = Working(value, "R", (force, load, edges, eta))
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
