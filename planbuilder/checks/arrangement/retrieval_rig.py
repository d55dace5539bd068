"""The retrieval rig as the rule set wants it: worn how, made off when, and kept for people."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.scene import Scene, Way, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.profiles.rule_file import Need
from planbuilder.site.equipment import RopeSystem, SelfRetractingLine, Winch
from planbuilder.site.method import MethodKind
from planbuilder.site.rig import Attach

GENERAL = "29 CFR 1910.146"
WRISTS = Rule(
    "plan/wristlets-without-reason",
    "Reason for wristlets in place of a harness",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=GENERAL, clause="(k)(3)(i)"),
)
SHARED = Rule(
    "plan/device-shared-with-goods",
    "Device kept for people while anybody is inside",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document="OSHA hoist letter"),
)
MADE_OFF = Rule(
    "plan/line-not-made-off",
    "Line made off outside before anybody goes in",
    Weight.BLOCKS,
    Source(mark=Mark.READ, document=GENERAL, clause="(k)(3)(ii)"),
)
ANY_DEPTH = Rule(
    "plan/no-device-at-any-depth",
    "Mechanical lifting device, at any depth",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="asked for where a rule set states it"),
)
TANGLE = Rule(
    "plan/lines-may-tangle",
    "Lines of several entrants kept apart",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="two lines round one corner hold both casualties fast"),
)
CONFIRMED = Rule(
    "plan/help-not-confirmed",
    "Help confirmed available before entry, if retrieval fails",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="law in US construction; kept for every plan"),
)


def check_wristlets(scene: Scene) -> Iterator[Finding]:
    """Wristlets are for where a harness is shown not to work, by somebody with a name."""
    for way in scene.ways():
        rig = way.rig
        if rig is None or rig.attachment is not Attach.WRISTLETS:
            continue
        reason, name = rig.wristlets_because, rig.wristlets_decided_by
        outcome: Stated | Missing = Missing(because="neither why, nor who decided that, is stated")
        if reason and name:
            words = f"{reason.replace('-', ' ')}, decided by {name}"
            outcome = Stated(holds=True, because=words)
        elif reason or name:
            outcome = Missing(because=f"not stated: {'who decided that' if reason else 'why'}")
        yield finding(
            WRISTS,
            outcome,
            settle_by="Lift by a harness; or state wristlets_because (harness-not-feasible or "
            "harness-adds-danger) and wristlets_decided_by.",
            keys=(way.key("rig.wristlets_because"), way.key("rig.wristlets_decided_by")),
            space=scene.space,
            about=way.name,
            duty=scene.limits.duty("retrieval.wristlets"),
        )


def check_shared(scene: Scene) -> Iterator[Finding]:
    """A device that lifts goods meanwhile is busy, or must be hung anew, when it is needed."""
    for way in scene.ways():
        for device in scene.devices_of(way):
            outcome: Stated | Missing = Missing(because=f"{device.name}: not stated")
            if device.shared_with_material is not None:
                word = "also lifts goods" if device.shared_with_material else "kept for people"
                words = f"{device.name}: {word}"
                outcome = Stated(holds=not device.shared_with_material, because=words)
            yield finding(
                SHARED,
                outcome,
                settle_by="Keep a device for retrieval alone while anybody is inside, rigged and "
                "free, and state shared_with_material = false; lift goods with another one.",
                keys=(f"device.{device.id}.shared_with_material",),
                space=scene.space,
                about=f"{way.name}, {device.name}",
            )


def check_made_off(scene: Scene) -> Iterator[Finding]:
    """The line of the first answer is on a device or fixed point outside before entry."""
    way = next(scene.ways())
    if not scene.space.is_confined or way.method.method is not MethodKind.NON_ENTRY:
        return
    if way.rig is None:
        return  # without a rig another rule blocks
    made_off = way.rig.made_off_outside
    outcome: Stated | Missing = Missing(because="not stated")
    if made_off is not None:
        words = "made off outside before entry" if made_off else "made off after the alarm only"
        outcome = Stated(holds=made_off, because=words)
    yield finding(
        MADE_OFF,
        outcome,
        settle_by="Make the line off to the device or a fixed point outside before anybody goes "
        "in, and state made_off_outside = true.",
        keys=(way.key("rig.made_off_outside"),),
        space=scene.space,
        about=way.name,
        duty=scene.limits.duty("retrieval.line_outside"),
    )


def check_tangle(scene: Scene) -> Iterator[Finding]:
    """Where several are inside on lines, the plan says how these keep clear of each other."""
    way, space = next(scene.ways()), scene.space
    on_lines = way.method.method is MethodKind.NON_ENTRY and way.rig is not None
    if not space.is_confined or not on_lines or way.rig is None or scene.inside_at_once == 1:
        return
    catches = [one.name for one in space.obstruction]
    catches += ["bends on the way"] if space.bend else []
    words = f"{scene.inside_at_once} inside on lines"
    outcome: Stated | Missing = Missing(because=f"{words}, not stated how these keep apart")
    if way.rig.lines_apart is not None:
        outcome = Stated(holds=True, because=f"{words}: {way.rig.lines_apart}")
    elif catches:
        outcome = Stated(holds=False, because=f"{words}, to catch on: {', '.join(catches)}")
    yield finding(
        TANGLE,
        outcome,
        settle_by="Let one person in at a time (inside_at_once = 1), or state with lines_apart "
        "how the lines keep clear of each other and of what they can catch on.",
        keys=(way.key("rig.lines_apart"), scene.key("task.inside_at_once")),
        space=space,
        about=way.name,
        duty=scene.limits.duty("retrieval.tangle_rule"),
    )


def check_any_depth(scene: Scene) -> Iterator[Finding]:
    """Where a rule set asks for a lifting device whatever the depth, there is one."""
    duty = scene.limits.duty("retrieval.mech_device")
    if duty is None or duty.need is Need.NOT_REQUIRED or not scene.space.is_confined:
        return
    names = [name for way in scene.ways() if (name := mechanical_device(way))]
    words = f"at hand: {', '.join(names)}" if names else f"none is planned; {duty.text}"
    yield finding(
        ANY_DEPTH,
        Stated(holds=bool(names), because=words),
        settle_by="Plan a winch, a self-retracting line with retrieval, or a rope system over the "
        "opening.",
        keys=(scene.key("rescue.primary.rig"),),
        space=scene.space,
        duty=duty,
    )


def mechanical_device(way: Way) -> str | None:
    """The name of the lifting device of *way*, where it lifts by more than muscle alone."""
    device = way.scene.device(way.rig.device) if way.rig else None
    retrieves = isinstance(device, SelfRetractingLine) and device.retrieval
    return device.name if device and (retrieves or isinstance(device, Winch | RopeSystem)) else None


def check_help_confirmed(scene: Scene) -> Iterator[Finding]:
    """Before each entry somebody finds out whether help is there, in case retrieval fails."""
    way, rescue = next(scene.ways()), scene.space.rescue
    if way.method.method is not MethodKind.NON_ENTRY:
        return
    facts = {
        "help_confirmed_by": rescue.help_confirmed_by,
        "help_confirmed_how": rescue.help_confirmed_how,
    }
    lacking = [name for name, value in facts.items() if value is None]
    outcome: Stated | Missing = Missing(
        because=f"not stated: {', '.join(lacking)}".replace("_", " ")
    )
    who = rescue.help_confirmed_by
    if who is not None and not lacking:
        inside = who in scene.space.entrants
        words = f"{scene.person(who).name}: {rescue.help_confirmed_how}"
        words += "; goes in, and cannot" if inside else ""
        outcome = Stated(holds=not inside, because=words)
    yield finding(
        CONFIRMED,
        outcome,
        settle_by="Name who finds out before each entry, outside, that help can come if retrieval "
        "fails (help_confirmed_by), and how (help_confirmed_how). No answer: nobody in.",
        keys=tuple(scene.key(f"rescue.{name}") for name in lacking or facts),
        space=scene.space,
        duty=scene.limits.duty("rescue.fallback_confirmed"),
    )
