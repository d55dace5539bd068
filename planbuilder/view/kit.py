"""Equipment, what people speak by, and what is done after the event, as printed."""

from __future__ import annotations

from planbuilder.checks.days import day_text
from planbuilder.checks.kit.communication import Spoken, named, spoken
from planbuilder.checks.scene import Scene
from planbuilder.plan import Plan
from planbuilder.site.equipment import Equipment
from planbuilder.site.supports import Inspected
from planbuilder.view.form import Form, form

NOT_STATED = "NOT STATED"
LOOKED_AT = ("Here", "Sound")


def equipment_form(plan: Plan) -> Form:
    """Everything that is ticked off before anybody enters."""
    site = plan.site
    rows = [
        *(("support", one.name, one.kind.replace("-", " "), one) for one in site.support),
        *(("device", one.name, one.kind.replace("-", " "), one) for one in site.device),
        *(("item", f"{one.quantity} x {one.name}", _kind(one), one) for one in site.equipment),
    ]
    heads = ("Item", "Kind", "Serial", "Kept at", "Inspected", "Good to", *LOOKED_AT)
    return form(
        "kit",
        heads,
        ((f"{table}/{one.id}", (name, kind, *_item(plan, one))) for table, name, kind, one in rows),
        ticks=LOOKED_AT,
    )


def equipment_signed() -> Form:
    """Who looked at it."""
    heads = ("Checked at the opening", "Name", "Signature", "Date and time")
    return form("kit", heads, [("signed", ("All rows above",))])


def _kind(one: Equipment) -> str:
    return f"{one.kind} ({', '.join(one.serves)})" if one.serves else one.kind


def _item(plan: Plan, one: Inspected) -> tuple[str, str, str, str]:
    due = NOT_STATED
    if one.inspected and one.inspection_interval:
        due = day_text(one.inspection_interval.after(one.inspected))
    inspected = day_text(one.inspected) if one.inspected else NOT_STATED
    return one.serial or "-", _place(plan, one), f"{inspected}{_more(one)}", due


def _place(plan: Plan, one: Inspected) -> str:
    place = one.kept_at or NOT_STATED
    if one.at_opening:
        return f"{place}; at the opening"
    if one.fetched_by is not None:
        who = next(each.name for each in plan.site.person if each.id == one.fetched_by)
        return f"{place}; fetched by {who}"
    return place


def _more(one: Inspected) -> str:
    """Examination and condition, where the plan states them."""
    by = f" by {one.examined_by}" if one.examined_by else ""
    said = f"; examined {day_text(one.examined)}" if one.examined else ""
    if said or by:
        said = f"{said or '; examined'}{by}"
    if one.condition == "has-held-a-fall":
        on = f" on {day_text(one.cleared_on)}" if one.cleared_on else ""
        said += "; HAS HELD A FALL"
        said += f", cleared by {one.cleared_by or NOT_STATED}{on}"
    elif one.cleared_by:
        said += f"; cleared by {one.cleared_by}"
    return said


def communication_form(scene: Scene) -> Form:
    """Who speaks with whom, by what, and a box for the test on the day."""
    heads = ("Who", "By", "If that fails", "Tested", "Dead zones", "Tried today")
    rows = ((one.between, _row(one)) for one in spoken(scene))
    return form(f"speak/{scene.space.id}", heads, rows, ticks=("Tried today",))


def _row(one: Spoken) -> tuple[str, ...]:
    entry = one.entry
    channel = f", {entry.channel}" if entry and entry.channel else ""
    return (
        named(one.between),
        f"{one.means or NOT_STATED}{channel}".replace("-", " "),
        backup_words(one) or NOT_STATED,
        day_text(one.tested_on) if one.tested_on else "-",
        (entry.dead_zones if entry else None) or "-",
    )


def backup_words(one: Spoken) -> str:
    """The backup of one pair with its channel; empty where none is named."""
    if one.entry is None or one.entry.backup is None:
        return ""
    channel = f", {one.entry.backup_channel}" if one.entry.backup_channel else ""
    return f"{one.entry.backup.replace('-', ' ')}{channel}"


def after_form(plan: Plan) -> Form:
    """What is done when the casualty is away, in order, with who does it."""
    after = plan.site.after
    people = {one.id: one.name for one in plan.site.person}
    reports = [
        (
            f"Report to {one.to}" + (" (authority)" if one.authority else ""),
            one.phone + (f", within {one.within_days} days" if one.within_days is not None else ""),
        )
        for one in after.report
    ] or [("Report the event", NOT_STATED)]
    rows = (
        ("heads", ("Count heads: everybody who went in is out", "attendant")),
        ("permit", ("Cancel the permit; close and guard the opening", "entry supervisor")),
        *(("report", one) for one in reports),
        (
            "scene",
            (
                "Keep the scene as it is; let nobody move anything",
                people.get(after.scene_kept_by or "", NOT_STATED),
            ),
        ),
        (
            "gear",
            (
                "Lock away every piece that was loaded, with meters and their records",
                after.gear_kept_at or NOT_STATED,
            ),
        ),
        (
            "review",
            (
                "Review this plan; nobody enters again before a new revision is approved",
                people.get(after.review_by or "", NOT_STATED),
            ),
        ),
    )
    return form("after", ("What", "Who, or where", "Done"), rows, ticks=("Done",))
