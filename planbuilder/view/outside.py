"""Who comes from outside and by which way people go: services, and the route in and out."""

from __future__ import annotations

from datetime import date

from planbuilder.checks.days import day_text
from planbuilder.findings import Unit
from planbuilder.site.file import UnitSystem
from planbuilder.site.people import Service
from planbuilder.site.space import Space
from planbuilder.site.travel import Segment
from planbuilder.units import Duration, Speed
from planbuilder.view.evaluations import evaluation_table, practised_text
from planbuilder.view.model import Fact, ServiceView, Table
from planbuilder.view.numbers import amount
from planbuilder.view.prose import prose

NOT_STATED = "not stated"
NO_RECORD = "NO RECORD"


def service_view(one: Service, system: UnitSystem) -> ServiceView:
    """Everything that the site file says of a service; what it does not say is said to be so."""
    road = amount(one.road_distance.m, Unit.M, system) if one.road_distance else ""
    driven = _written(one.driven) + (f", on {day_text(one.driven_on)}" if one.driven_on else "")
    able = ", ".join(each.replace("-", " ") for each in one.capable_of)
    confirmed = f", in writing {day_text(one.confirmed_on)}" if one.confirmed_on else ""
    return ServiceView(
        name=f"{one.name} ({one.kind.replace('-', ' ')})",
        agreed=(
            Fact("Phone", f"{one.phone}, {one.channel}" if one.channel else one.phone),
            Fact("Number tried", _record(one.verified_on)),
            Fact("Agreed", _record(one.agreed_on, one.agreed_by)),
            Fact("In writing", _yes(one.agreed_in_writing)),
            Fact("Evaluated", _record(one.evaluated_on, one.evaluated_by)),
            Fact("Told of hazards", _record(one.told_hazards_on)),
            Fact("Shown the spaces", _record(one.shown_spaces_on)),
            Fact("Seen at work", practised_text(one.practised)),
            Fact("Reports when away", _yes(one.reports_unavailability)),
            Fact("Called each shift", _yes(one.called_each_shift)),
        ),
        comes=(
            Fact("Based at", one.based_at or NOT_STATED),
            Fact("Turn-out takes", _written(one.turn_out)),
            Fact("Drive takes", driven),
            *((Fact("By road", road),) if road else ()),
            Fact("Walk-in takes", _written(one.walk_in)),
            Fact("Equipped for", f"{able}{confirmed}" if able else f"{NOT_STATED}{confirmed}"),
        ),
        evaluation=evaluation_table(one),
        notes=prose(one.notes),
    )


def _record(on: date | None, by: str | None = None) -> str:
    if on is None:
        return NO_RECORD
    return f"{day_text(on)}, {by}" if by else day_text(on)


def _yes(flag: bool | None) -> str:
    return NOT_STATED if flag is None else ("yes" if flag else "NO")


def _written(time: Duration | None) -> str:
    return time.written if time else NOT_STATED


def route_table(space: Space, system: UnitSystem) -> Table:
    """The way in and out with the casualty, stretch by stretch."""
    rows = tuple(
        (
            one.what,
            amount(one.length.m, Unit.M, system),
            _manner(one.going_in, one.speed_in, one.pause_in, system),
            _out(one, system),
        )
        for one in space.route
    )
    return Table(
        ("Way in, stretch by stretch", "Length", "Going in", "Out with the casualty"), rows
    )


def _out(one: Segment, system: UnitSystem) -> str:
    if one.coming_out is None:
        return NOT_STATED
    return _manner(one.coming_out, one.speed_out, one.pause_out, system)


def _manner(how: str, speed: Speed | None, pause: Duration | None, system: UnitSystem) -> str:
    """Walking or carrying, with a speed and a pause where they are stated."""
    parts = [how.replace("-", " ")]
    parts += [f"at {amount(speed.m_per_s, Unit.M_PER_S, system)}"] if speed else []
    parts += [f"{pause.written} held up"] if pause else []
    return ", ".join(parts)
