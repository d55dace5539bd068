"""What comes to a space from outside, in words: stop rules, other work, who assessed it."""

from __future__ import annotations

from planbuilder.checks.days import day_text
from planbuilder.checks.scene import Scene
from planbuilder.site.outside import OtherWork, Trigger
from planbuilder.view.model import Fact

CARD_ROOM = 200  # characters, two lines of the card
NARROW_ROOM = 60  # where NOT READY stands on the card as well


def coordinates_text(coordinates: tuple[float, float] | None) -> str | None:
    """Latitude and longitude as a dispatcher types them: as written, with the side of the earth."""
    if coordinates is None:
        return None
    latitude, longitude = coordinates
    north, east = "S" if latitude < 0 else "N", "W" if longitude < 0 else "E"
    return f"{abs(latitude):g} {north}, {abs(longitude):g} {east}"


def card_stops(scene: Scene, room: int = CARD_ROOM) -> str:
    """What outside means that everybody comes out, in what room the attendant's card has.

    A stop rule is never cut short: one that finds no room is named, and stands with the space.
    """
    said = ""
    named: list[str] = []
    for one in scene.space.trigger:
        longer = "; ".join(filter(None, (said, _stop(scene, one))))
        if named or len(longer) > room:
            named.append(one.kind.replace("-", " "))
        else:
            said = longer
    more = f"as written on the page of the space: {', '.join(named)}" if named else ""
    return "; ".join(filter(None, (said, more)))


def _stop(scene: Scene, one: Trigger) -> str:
    at = [one.stop_at, f"wind from {one.wind.written}" if one.wind else None]
    words = ", ".join(filter(None, at)) or "value not stated"
    who = scene.person(one.watched_by).name if one.watched_by else "NOBODY"
    return f"{one.kind.replace('-', ' ')}: {words} ({who} watches)"


def surroundings(scene: Scene) -> tuple[Fact, ...]:
    """Who assessed the space, when it changed, what kind of work it is, what others do nearby."""
    space, task = scene.space, scene.space.task
    when = day_text(space.assessed_on) if space.assessed_on else "day not stated"
    rows = [
        ("Kind of work", ", ".join(one.replace("-", " ") for one in task.work or [])),
        ("Permit good for", task.permit_for.written if task.permit_for else ""),
        ("Assessed by", f"{space.assessed_by}, {when}" if space.assessed_by else ""),
        ("Last changed", day_text(space.changed_on) if space.changed_on else ""),
        ("Eliminated", ", ".join(one.kind for one in space.hazard if one.eliminated)),
        ("Outside, everybody out at", "; ".join(_stop(scene, one) for one in space.trigger)),
        ("Other work", "; ".join(_other(scene, one) for one in space.other_work or [])),
    ]
    return tuple(Fact(label, text) for label, text in rows if text)


def _other(scene: Scene, one: OtherWork) -> str:
    owner = next(
        (e.name for e in scene.site.employer if e.id == one.employer), "employer not stated"
    )
    who = scene.person(one.contact).name if one.contact else "contact not stated"
    days = " to ".join(day_text(day) for day in (one.starts, one.ends) if day)
    makes = ", ".join(each.replace("-", " ") for each in one.makes or [])
    parts = [one.what, owner, who, days, f"makes {makes}" if makes else "", one.control]
    return ", ".join(filter(None, parts))
