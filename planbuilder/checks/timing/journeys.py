"""Times that the plan states against those of the road and the route: neither may contradict."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.scene import Scene, Way, Working, derived, finding, listed, output
from planbuilder.checks.timing.routes import has_journey, journey_time, route_time
from planbuilder.checks.timing.timeline import TimedStep, Timeline, timeline
from planbuilder.findings import (
    Compared,
    Finding,
    Mark,
    Missing,
    Relation,
    Rule,
    Source,
    Unit,
    Weight,
)
from planbuilder.site.method import MethodKind, Posture, Step
from planbuilder.site.people import Service

QUICKER = Rule(
    "response/service-quicker-than-road",
    "Time of the outside service no shorter than call, turn-out, road and walk",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="nobody is here before the road is driven"),
)
ROUTE = Rule(
    "response/route-longer-than-steps",
    "Way out by its stretches against the times of the steps",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="one of them is wrong where they differ by more than twice"),
)
TWICE = 2.0


def check_quicker_than_road(scene: Scene) -> Iterator[Finding]:
    """The step in which a service comes takes as long as its journey, or is worked out from it."""
    for way in scene.ways():
        if _is_unnamed(way):
            yield _road(
                way,
                Missing(because="no step says which service comes in it"),
                (way.key("step"),),
                "outside service",
            )
        for step in way.method.step:
            service = scene.service(step.service) if step.service else None
            if service is not None and step.computed is None and has_journey(service):
                yield _step_on_road(way, step, service)


def _is_unnamed(way: Way) -> bool:
    """Whether a service whose journey is known comes in a step that does not say so."""
    method, scene = way.method, way.scene
    named = {one.service or method.service for one in method.step if one.computed == "off-site"}
    named |= {one.service for one in method.step}
    named -= {None}
    own = scene.service(method.service) if method.service else None
    if method.posture is Posture.OFF_SITE and own is not None and has_journey(own):
        return own.id not in named
    hands_over = any(one.reaches == "handed-over" for one in method.step)
    return hands_over and not named and any(has_journey(one) for one in scene.site.service)


def _step_on_road(way: Way, step: Step, service: Service) -> Finding:
    journey, timed = journey_time(way.scene, service), _timed(way, step)
    key = way.key(f"step.{step.id}.usual")
    about = f"{step.id}, {service.name}"
    if isinstance(journey, tuple):
        words = f"{listed(journey)} not given, or beyond what the formula holds for"
        return _road(way, Missing(because=words), journey, about)
    if timed is None:
        return _road(way, Missing(because=f"no time for {step.id}"), (key,), about)
    least = derived(
        "T_off",
        "call until the service is at the opening",
        journey.value,
        Unit.S,
        journey.formula,
        journey.inputs,
    )
    outcome = Working(timed.usual.value, timed.usual.symbol, (timed.usual,)).against(
        Relation.AT_LEAST, least, result=output("t", timed.step.what, Unit.S)
    )
    return _road(way, outcome, (key, f"service.{service.id}.driven"), about)


def _timed(way: Way, step: Step) -> TimedStep | None:
    return next((one for one in timeline(way).steps if one.step.id == step.id), None)


def _road(way: Way, outcome: Compared | Missing, keys: tuple[str, ...], about: str) -> Finding:
    return finding(
        QUICKER,
        outcome,
        settle_by="Give the step in which the service comes service = its id, and "
        'computed = "off-site" instead of a time; or state a time no shorter than the journey. '
        "Drive the way and state driven and driven_on (or road_distance), turn_out and walk_in.",
        keys=keys,
        space=way.scene.space,
        about=f"{way.name}, {about}",
    )


def check_route_longer(scene: Scene) -> Iterator[Finding]:
    """The way out by its stretches is not far longer than the steps that go it."""
    if not scene.space.route:
        return
    for way in scene.ways():
        going = _going_out(timeline(way))
        if way.method.method is not MethodKind.ENTRY or not going:
            continue
        route = route_time(scene, "out")
        yield finding(
            ROUTE,
            Missing(because=f"{listed(route)} not given")
            if isinstance(route, tuple)
            else _no_longer(route, going),
            settle_by="Walk the route again with the casualty, and put right the stretches and "
            "pauses, or the times of the steps.",
            keys=route if isinstance(route, tuple) else (scene.key("route"),),
            space=scene.space,
            about=way.name,
        )


def _going_out(times: Timeline) -> list[TimedStep]:
    """The steps from air to outside, or that say so, but for those that are computed."""
    air, out = times.clock("air"), times.clock("out")
    if out is None:
        return []
    before = air.path if air else ()
    on_path = [times.step(one) for one in out.path]
    return [
        one
        for one in on_path
        if one.step.computed is None and (one.step.id not in before or one.step.on_air == "out")
    ]


def _no_longer(route: Working, going: list[TimedStep]) -> Compared:
    usual = tuple(one.usual for one in going)
    limit = derived(
        "t_most",
        "twice the steps on the way out",
        TWICE * sum(one.value for one in usual),
        Unit.S,
        f"2*({' + '.join(one.symbol for one in usual)})",
        usual,
    )
    return route.against(
        Relation.AT_MOST, limit, result=output("t_way", "way out with a casualty", Unit.S)
    )
