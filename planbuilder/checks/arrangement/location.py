"""Can a stranger find the place, and can everybody be rung."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight

FOUND = Rule(
    "plan/place-not-found",
    "Position, meeting point and escort for whoever comes from outside",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="crews lost on the site are the commonest delay off site"),
)
RUNG = Rule(
    "plan/phone-without-number",
    "Numbers that can be dialled",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="a call that cannot be made brings nobody"),
)
CALLED_BACK = Rule(
    "plan/call-back-is-emergency",
    "A call-back number of the site's own",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="whoever loses the call must be able to ring the site"),
)


def check_found(scene: Scene) -> Iterator[Finding]:
    """Besides address and gate: where exactly, where people gather, and who meets the ambulance."""
    site, missing = scene.site.site, {}
    if site.position is None and site.coordinates is None:
        missing["site.coordinates"] = "position or coordinates"
    if site.muster is None:
        missing["site.muster"] = "where everybody gathers"
    if site.escort is None:
        missing["site.escort"] = "who meets them at the gate"
    elif scene.person(site.escort).phone is None:
        missing[f"person.{site.escort}.phone"] = "phone of the escort"
    words = f"not stated: {', '.join(missing.values())}"
    yield finding(
        FOUND,
        Missing(because=words)
        if missing
        else Stated(holds=True, because="position, muster point, and escort with phone are stated"),
        settle_by="State it as a dispatcher would need it: coordinates as latitude and longitude "
        "in degrees.",
        keys=tuple(missing) or ("site.position", "site.coordinates", "site.muster", "site.escort"),
        space=scene.space,
    )


def check_rung(scene: Scene) -> Iterator[Finding]:
    """Every number that this plan may have to ring has digits."""
    numbers = _numbers(scene)
    empty = {key: text for key, text in numbers.items() if not _digits(text)}
    words = ", ".join(f"{key} says {text}" for key, text in empty.items())
    yield finding(
        RUNG,
        Stated(holds=not empty, because=words or f"{len(numbers)} numbers to dial"),
        settle_by="State the number that is dialled, or the channel by its number.",
        keys=tuple(empty) or tuple(numbers)[:1],
        space=scene.space,
    )


def _digits(text: str) -> str:
    return "".join(one for one in text if one.isdigit())


def _numbers(scene: Scene) -> dict[str, str]:
    """Every number that is rung, by its key."""
    site, space = scene.site.site, scene.space
    numbers = {
        "site.emergency_number": site.emergency_number,
        "site.call_back": site.call_back,
        "plan.competent_person_phone": scene.site.plan.competent_person_phone,
    }
    crew = [one.person for way in scene.ways() for one in way.method.crew]
    people = [*space.attendant, space.relief_attendant, site.escort, site.coordinator, *crew]
    for one in filter(None, dict.fromkeys(people)):
        if phone := scene.person(one).phone:
            numbers[f"person.{one}.phone"] = phone
    for way in scene.ways():
        if way.method.service:
            service = scene.service(way.method.service)
            numbers[f"service.{service.id}.phone"] = service.phone
    numbers |= {f"employer.{one.id}.phone": one.phone for one in scene.site.employer}
    return numbers


def check_called_back(scene: Scene) -> Iterator[Finding]:
    """The number to call back is not the one that was called."""
    site = scene.site.site
    back, first = _digits(site.call_back), _digits(site.emergency_number)
    yield finding(
        CALLED_BACK,
        Stated(
            holds=back != first,
            because=f"emergency {site.emergency_number}, call back {site.call_back}",
        ),
        settle_by="State a number at which somebody on the site answers.",
        keys=("site.call_back",),
        space=scene.space,
    )
