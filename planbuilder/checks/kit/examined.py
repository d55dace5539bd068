"""Is the equipment fit for use: examined, not loaded by a fall, known by number, matching."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from planbuilder.checks.days import day_text
from planbuilder.checks.kit.gear import Gear, is_built_in, used_here
from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.profiles.statements import Limit
from planbuilder.site.equipment import Equipment, SelfRetractingLine, Serves
from planbuilder.site.periods import Period
from planbuilder.site.supports import Inspected

EXAMINED = Rule(
    "plan/examination-overdue",
    "Thorough examinations valid on the last day of work",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="asked only where a rule set states an interval"),
)
LOADED = Rule(
    "plan/gear-has-held-a-fall",
    "Nothing in use that has held a fall and was not cleared",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="what has held one fall may not hold the next"),
)
SERIAL = Rule(
    "plan/serial-missing",
    "Each piece known by its number",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="an inspection without a number is of no piece in particular"),
)
CONNECTORS = Rule(
    "plan/connectors-not-compatible",
    "Connectors that fit what they are clipped to",
    Weight.WARNS,
    Source(mark=Mark.RECALLED, document="29 CFR 1926.502", clause="(d)(5)"),
)
RECORD = Rule(
    "plan/no-inspection-record",
    "Where the records of inspections are kept",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="asked only where a rule set asks for a written record"),
)
PERSONS = "inspection.lifting_persons_months"
PPE = "inspection.ppe_months"


def check_examined(scene: Scene) -> Iterator[Finding]:
    """Thoroughly examined within the months that the rule sets state for this sort of thing."""
    for key in (PERSONS, PPE):
        limit = scene.limits.limit(key)
        gear = tuple(one for one in used_here(scene) if _interval_key(one) == key)
        if limit is not None and gear:
            yield _examinations(scene, limit, gear)


def _interval_key(one: Gear) -> str | None:
    """The limit that holds for it; None for what neither lifts nor holds anybody.

    Here everything that lifts or anchors a line lifts people, whatever it is marked for.
    """
    item = one.item
    if isinstance(item, Equipment):
        worn = Serves.HARNESS in item.serves or Serves.LANYARD in item.serves
        return PPE if worn else None
    if is_built_in(one):
        return None
    if isinstance(item, SelfRetractingLine) and not item.retrieval:
        return PPE
    return PERSONS


def _examinations(scene: Scene, limit: Limit, gear: tuple[Gear, ...]) -> Finding:
    months = int(limit.quantity.value)
    good = {one.id: _good_to(one.item, months) for one in gear}
    late = [one for one in gear if not _in_date(one.item, good[one.id], scene)]
    blank = [one for one in late if good[one.id] is None]
    wrong = [one for one in late if good[one.id] is not None]
    outcome: Stated | Missing = Stated(
        holds=True, because=f"{len(gear)} examined within {months} months"
    )
    if wrong:
        words = "; ".join(_examined_words(one.item, good[one.id]) for one in wrong)
        outcome = Stated(holds=False, because=f"{words}; needed to {day_text(scene.last_day)}")
    elif blank:
        names = ", ".join(one.item.name for one in blank)
        outcome = Missing(because=f"date of examination, or by whom, not given: {names}")
    return finding(
        EXAMINED,
        outcome,
        settle_by=f"Have each thoroughly examined, every {months} months at least, and state "
        "examined and examined_by; or use another one.",
        keys=tuple(one.key("examined") for one in (late or gear)),
        space=scene.space,
        about=limit.quantity.label.removeprefix("months between "),
        duty=limit,
        due=min(filter(None, good.values()), default=None),
    )


def _good_to(item: Inspected, months: int) -> date | None:
    if item.examined is None or item.examined_by is None:
        return None
    return Period(months, "month", "").after(item.examined)


def _in_date(item: Inspected, good_to: date | None, scene: Scene) -> bool:
    if item.examined is None or good_to is None:
        return False
    return item.examined <= scene.on and scene.last_day <= good_to


def _examined_words(item: Inspected, good_to: date | None) -> str:
    if item.examined is None or good_to is None:
        return item.name
    return f"{item.name}: examined {day_text(item.examined)}, good to {day_text(good_to)}"


def check_loaded(scene: Scene) -> Iterator[Finding]:
    """What has held a fall is out of use until somebody competent has cleared it, by name."""
    gear = _all_gear(scene)
    loaded = [one for one in gear if one.item.condition == "has-held-a-fall"]
    out = [one for one in loaded if one.item.cleared_by is None and one.item.cleared_on is None]
    out += [one for one in loaded if one.item.cleared_on and one.item.cleared_on > scene.on]
    half = [one for one in loaded if (one.item.cleared_by is None) != (one.item.cleared_on is None)]
    words = "nothing here is said to have held a fall"
    if loaded:
        words = f"has held a fall: {', '.join(one.item.name for one in loaded)}; cleared"
    outcome: Stated | Missing = Stated(holds=True, because=words)
    if out:
        names = ", ".join(one.item.name for one in out)
        outcome = Stated(holds=False, because=f"has held a fall, not cleared: {names}")
    elif half:
        names = ", ".join(one.item.name for one in half)
        outcome = Missing(because=f"cleared by whom, and when: {names}")
    yield finding(
        LOADED,
        outcome,
        settle_by="Take it out of use and bring another one; or have a competent person clear it "
        "and state cleared_by and cleared_on.",
        keys=tuple(one.key("condition") for one in loaded) or ("equipment",),
        space=scene.space,
        duty=scene.limits.duty("inspection.loaded_gear_out"),
    )


def _all_gear(scene: Scene) -> tuple[Gear, ...]:
    """What is used here, and the rest of the equipment list, which is at hand as well."""
    listed = (Gear("equipment", one.id, one) for one in scene.site.equipment)
    return tuple({(one.table, one.id): one for one in (*used_here(scene), *listed)}.values())


def check_serial(scene: Scene) -> Iterator[Finding]:
    """Whatever somebody's life hangs on has a number, which its inspection record names."""
    gear = [one for one in used_here(scene) if _holds_a_life(one)]
    if not gear:
        return
    blank = [one for one in gear if one.item.serial is None]
    outcome: Stated | Missing = Stated(holds=True, because=f"{len(gear)} pieces with a number")
    if blank:
        names = ", ".join(one.item.name for one in blank)
        outcome = Missing(because=f"no serial number: {names}")
    yield finding(
        SERIAL,
        outcome,
        settle_by="Read the number off the piece, or mark it with one, and state serial.",
        keys=tuple(one.key("serial") for one in (blank or gear)),
        space=scene.space,
    )


def _holds_a_life(one: Gear) -> bool:
    """Whether somebody hangs on it, lies in it or breathes from it."""
    item = one.item
    if isinstance(item, Equipment):
        worn = Serves.HARNESS in item.serves or Serves.LANYARD in item.serves
        return worn or item.air is not None or item.packed is not None
    return not is_built_in(one)


def check_connectors(scene: Scene) -> Iterator[Finding]:
    """Somebody has clipped harness, connector and line together and found that they fit."""
    for way in scene.ways():
        if way.rig is None:
            continue
        fits = way.rig.connectors_compatible
        outcome: Stated | Missing = Missing(because="not stated whether they fit one another")
        if fits is not None:
            words = "fit one another" if fits else "do NOT fit one another"
            outcome = Stated(holds=fits, because=f"harness, connectors and line {words}")
        yield finding(
            CONNECTORS,
            outcome,
            settle_by="Clip them together as in use: the gate closes, nothing can lever it open or "
            "roll out; then state connectors_compatible.",
            keys=(way.key("rig.connectors_compatible"),),
            space=scene.space,
            about=way.name,
        )


def check_record(scene: Scene) -> Iterator[Finding]:
    """Where a rule set asks for a written record, the plan says where it is."""
    duty = scene.limits.duty("inspection.written_record")
    if duty is None:
        return
    said = scene.site.plan.inspection_records
    outcome: Stated | Missing = Missing(because="not stated where the records are")
    if said is not None:
        outcome = Stated(holds=True, because=said)
    yield finding(
        RECORD,
        outcome,
        settle_by="State inspection_records: where the written records of inspections are kept.",
        keys=("plan.inspection_records",),
        space=scene.space,
        duty=duty,
    )
