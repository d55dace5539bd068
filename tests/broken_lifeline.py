"""A lifeline over the wet well of the sample, with a fall on a lanyard that it catches."""

import tomllib
from typing import Any

from broken_crew import put
from broken_fall import ON_LANYARD
from broken_haul import LINE
from broken_sites import Break, entry, space

# A wire rope of 9.5 mm, hung up for a fall.
GOOD_LINE: dict[str, Any] = {
    **tomllib.loads(LINE),
    "id": "overhead-line",
    "name": "Overhead line",
    "slack_length": "12.06 m",
    "stiffness": "3070 kN",
    "line_mass": "4.5 kg",
    "end_rating": "45 kN",
    "line_breaking": "45 kN",
    "judged_by": "A. Brandt",
}
ROOM = "5.5 m"


def on_line(*, fall: dict[str, Any] | None = None, people: int = 1, **values: Any) -> Break:
    """A fall caught by the line, with keys of line and fall changed; None takes a key away."""

    def change(data: dict[str, Any]) -> None:
        line = dict(GOOD_LINE)
        if "sag" in values:
            del line["slack_length"]
        put(line, **values)
        data["support"].append(line)
        space(data)["fall"] = {**ON_LANYARD, "below": ROOM, "lifeline": "overhead-line"}
        put(space(data)["fall"], **(fall or {}))
        space(data)["task"]["inside_at_once"] = people

    return change


def not_a_line(data: dict[str, Any]) -> None:
    """The fall names a support that is no lifeline."""
    on_line()(data)
    space(data)["fall"]["lifeline"] = entry(data, "support", "davit-2")["id"]


# A rule that is met or unknown: what lets it rest, what leaves it unknown.
CASES: list[tuple[str, None, Break, Break]] = [
    ("clearance/lifeline-without-designer", None, on_line(), on_line(judged_by=None)),
]
