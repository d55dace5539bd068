"""The head of a support: two lines, a catch, people, and what the device is made for."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from planbuilder.checks.asking import Needs, answer
from planbuilder.checks.casualty import (
    second_person,
    weight,
)
from planbuilder.checks.scene import (
    AnyDevice,
    Scene,
    Way,
    Working,
    counted,
    finding,
    output,
)
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
from planbuilder.site.equipment import SelfRetractingLine
from planbuilder.site.supports import Support

PERSONS = Source(mark=Mark.READ, document="2006/42/EC", clause="Annex I 6.1.1, by analogy")
STATICS = Source(mark=Mark.DERIVED, document="Statics")
FORCE = Rule(
    "haul/arrest-force-too-high",
    "Force on the body when the backup catches",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.140", clause="(d)(1)(i)"),
)
PINS = Rule("haul/shared-sheave-pin", "Two lines on separate pins", Weight.BLOCKS, STATICS)
PEOPLE = Rule(
    "haul/single-person-rating", "Parts rated for the people on the line", Weight.BLOCKS, PERSONS
)
CONVENTION = Rule(
    "haul/below-convention",
    "Device against the conventional load",
    Weight.WARNS,
    Source(mark=Mark.RECALLED, document="NFPA 1983"),
)
RETRACTOR = Rule(
    "haul/retractor-as-lift",
    "Self-retracting line used for the lift",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="a retrieval crank is for the emergency, not for daily lifting"),
)


TWO = 2
_PINS = {True: "separate pins", False: "one pin for both lines"}
TWO_LINES = Rule("haul/two-lines-on-one-head", "Head with two lines", Weight.BLOCKS, STATICS)
ARREST = Rule(
    "haul/head-cannot-arrest",
    "Head when the backup catches",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="29 CFR 1910.140", clause="(c)(13)"),
)


def check_two_lines(scene: Scene) -> Iterator[Finding]:
    """A head with winch and backup holds both lines, the catch, and keeps them on two pins."""
    for way in scene.ways():
        rig = way.rig
        if rig is None or rig.backup is None or rig.backup_support not in (None, rig.support):
            continue
        support, key = scene.support(rig.support), f"support.{rig.support}"
        needs, load = Needs(), weight(way)
        both = needs.take(
            "F_two", "rating with two lines", support.two_line_load, Unit.N, f"{key}.two_line_load"
        )
        second = second_person(way)
        two_inside = scene.inside_at_once > 1 or rig.rides_along is not None
        working = Working(load.value, "W", (load,))
        if two_inside:
            working = Working(load.value + second.value, "W + W_2", (load, second))
        case = "LC3" if two_inside else "LC1"
        yield answer(
            TWO_LINES,
            way,
            needs,
            partial(
                working.against,
                Relation.AT_MOST,
                both,
                result=output("F_head", f"load on the head, {case}", Unit.N),
            ),
            settle_by=f"Read the two-line rating of {support.name}, or hang the backup elsewhere.",
            keys=(f"{key}.two_line_load",),
        )
        pins = Needs()
        pins.say(support.separate_pins, f"{key}.separate_pins")
        yield answer(
            PINS,
            way,
            pins,
            partial(
                Stated,
                holds=bool(support.separate_pins),
                because=f"{support.name}: {_PINS[bool(support.separate_pins)]}",
            ),
            settle_by="Hang the two lines on sheaves with pins of their own.",
            keys=(f"{key}.separate_pins",),
        )


def check_arrest(scene: Scene) -> Iterator[Finding]:
    """When the backup catches, its force replaces the weight: the head takes it, and the body."""
    limit = scene.limits.of("fall.arrest_force")
    for way in scene.ways():
        backup = scene.device(way.rig.backup) if way.rig and way.rig.backup else None
        if way.rig is None or not isinstance(backup, SelfRetractingLine):
            continue
        support = scene.support(way.rig.backup_support or way.rig.support)
        key, needs, body = f"device.{backup.id}.arrest_force", Needs(), Needs()
        force = needs.take(
            "F_arrest", f"arrest force of {backup.name}", backup.arrest_force, Unit.N, key
        )
        holds = needs.take(
            "F_head",
            f"arrest rating of {support.name}",
            support.arrest_load,
            Unit.N,
            f"support.{support.id}.arrest_load",
        )
        body.say(backup.arrest_force, key)
        caught = Working(force.value, "F_arrest", (force,))
        yield answer(
            ARREST,
            way,
            needs,
            partial(
                caught.against,
                Relation.AT_MOST,
                holds,
                result=output("F", "force on the head, LC2", Unit.N),
            ),
            settle_by="Read the arrest rating of the head, or hang the backup on an anchor that "
            "takes a caught fall.",
            keys=(f"support.{support.id}.arrest_load",),
        )
        yield answer(
            FORCE,
            way,
            body,
            partial(
                caught.against,
                limit.relation,
                limit.quantity,
                result=output("F", "force on the body, LC2", Unit.N),
            ),
            settle_by="Use a backup with a lower arrest force.",
            keys=(key,),
        )


def check_people_rating(scene: Scene) -> Iterator[Finding]:
    """Device, backup and support are rated for as many people as hang on them.

    For one person alone a rating for people is enough; how many it is for is asked from two on.
    """
    for way in scene.ways():
        line, head = _on_line(way), _on_head(way)
        parts: list[tuple[str, Support | AnyDevice, Quantity]] = [
            *(("device", one, line) for one in scene.devices_of(way)),
            *(("support", one, head) for one in scene.supports_of(way)),
        ]
        for table, part, people in parts:
            if part.rated_people is None and people.value < TWO:
                continue
            needs, key = Needs(), f"{table}.{part.id}.rated_people"
            rated = needs.number(
                "n_rated",
                f"people that {part.name} is rated for",
                part.rated_people,
                Unit.COUNT,
                key,
            )
            yield answer(
                PEOPLE,
                way,
                needs,
                partial(
                    Working(people.value, "n", (people,)).against,
                    Relation.AT_MOST,
                    rated,
                    result=output("n", people.label, Unit.COUNT),
                ),
                settle_by=f"Use parts rated for {people.value:.0f} people, or lift the casualty "
                "alone and let one at a time go in.",
                keys=(key,),
                about=part.name,
            )


def _on_line(way: Way) -> Quantity:
    """The casualty, and whoever rides along."""
    riding = 1 if way.rig and way.rig.rides_along else 0
    return counted("n", "people on the line", 1 + riding, way.key("rig.rides_along"))


def _on_head(way: Way) -> Quantity:
    """The people on the line, and a second one on the backup's line of the same head."""
    rig, people = way.rig, _on_line(way)
    shared = rig is not None and rig.backup and rig.backup_support in (None, rig.support)
    second = 1 if shared and way.scene.inside_at_once > 1 else 0
    key = way.scene.key("task.inside_at_once") if second else people.source.key
    return counted("n", "people on the head", people.value + second, key)


def check_convention(scene: Scene) -> Iterator[Finding]:
    """The device also takes the load that rescue equipment is conventionally made for."""
    for way in scene.ways():
        if way.rig is None:
            continue
        device, key = scene.device(way.rig.device), f"device.{way.rig.device}.rated_load"
        name = "two-person-load" if way.rig.rides_along else "one-person-load"
        convention, needs = scene.defaults.of(name), Needs()
        rated = needs.take(
            "F_rated", f"rated load of {device.name}", device.rated_load, Unit.N, key
        )
        working = Working(rated.value, "F_rated", (rated,))
        yield answer(
            CONVENTION,
            way,
            needs,
            partial(
                working.against,
                Relation.AT_LEAST,
                convention,
                result=output("F", f"rated load of {device.name}", Unit.N),
            ),
            settle_by="The planned load is lighter than the convention: keep to the people named.",
            keys=(key,),
        )


def check_retractor_lift(scene: Scene) -> Iterator[Finding]:
    """A self-retracting line lifts only with a retrieval crank, and within that duty."""
    for way in scene.ways():
        device = scene.device(way.rig.device) if way.rig else None
        if not isinstance(device, SelfRetractingLine):
            continue
        holds = device.retrieval and not device.retrieval_is_backup_only
        words = "has a retrieval crank" if device.retrieval else "has no retrieval crank"
        words += ", for backup only" if device.retrieval_is_backup_only else ""
        yield finding(
            RETRACTOR,
            Stated(holds=holds, because=f"{device.name} {words}"),
            settle_by="Lift with a winch or a rope system, and keep this line as backup.",
            keys=(f"device.{device.id}.retrieval",),
            space=scene.space,
            about=way.name,
        )
