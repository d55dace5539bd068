"""Ways of falling in the wet well of the sample: a lanyard, a grab on a rope, things in the way."""

import re
from typing import Any

from broken_crew import put
from broken_sites import Break, space

GOOD_ABSORBER = {"force": "4 kN", "peak": "6 kN", "travel": "1.2 m"}
ON_LANYARD: dict[str, Any] = {
    "arrest": "lanyard",
    "connector": "1.2 m",
    "anchor_height": "1.5 m",
    "dring_height": "1.45 m",
    "offset": "0 m",
    "below": "4.2 m",
    "absorber": GOOD_ABSORBER,
}
ON_GRAB: dict[str, Any] = {
    **ON_LANYARD,
    "arrest": "rope-grab",
    "connector": "0.9 m",
    "anchor_height": "6.6 m",
    "grab_height": "1.6 m",
    "grab_locking": "0.15 m",
    "rope_strain": "6 %",
}


def falling(**values: Any) -> Break:
    """Sets keys of the wet well's fall; None takes the key away."""
    return lambda data: put(space(data)["fall"], **values)


def on_lanyard(**values: Any) -> Break:
    """Fall arrest by a lanyard that has room, with keys changed; None takes a key away."""
    return _instead(ON_LANYARD, values)


def on_grab(**values: Any) -> Break:
    """Fall arrest by a grab on a vertical line that has room, with keys changed."""
    return _instead(ON_GRAB, values)


def _instead(fall: dict[str, Any], values: dict[str, Any]) -> Break:
    def change(data: dict[str, Any]) -> None:
        space(data)["fall"] = dict(fall)
        put(space(data)["fall"], **values)

    return change


def absorber(**values: Any) -> dict[str, Any]:
    """The good absorber with keys changed; None takes a key away."""
    changed = dict(GOOD_ABSORBER)
    put(changed, **values)
    return changed


def ledge(**values: Any) -> list[dict[str, Any]]:
    """A ledge under the user, high enough to be hit, with keys changed."""
    one: dict[str, Any] = {"what": "the ledge", "below": "1.5 m", "aside": "0.1 m"}
    put(one, **values)
    return [one]


def metres(text: str, words: str) -> str:
    """The number that stands before or after *words*, with its unit."""
    match = re.search(words.replace("#", r"(\d+\.\d+) m"), text)
    assert match, text
    return f"{match[1]} m"
