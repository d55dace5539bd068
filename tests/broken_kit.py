"""Ways of changing equipment, what people speak by, and what is done after the event."""

from pathlib import Path
from typing import Any

from broken_sites import ON, Break, entry, space, way

from planbuilder.plan import Plan, build_plan
from planbuilder.site.load import load_site

SAMPLE = Path(__file__).parents[1] / "sample_sites" / "pump_station.toml"
ASKED = """
[profile]
id = "weir-rules"
title = "Rules of the weir"
version = "1"
source_date = "issue 1"
country = "US"
overlay_of = "*"

[[document]]
id = "Weir rules"
title = "Rescue rules of the weir"
edition = "issue 1"
seen = "official text"
"""
SAID = 'document = "Weir rules"\nclause = "7"\nmark = "read"\nbind = "{bind}"\n'


def put(target: dict[str, Any], **values: Any) -> None:
    """Sets keys of a table; None takes the key away."""
    for key, value in values.items():
        if value is None:
            target.pop(key, None)
        else:
            target[key] = value


def piece(table: str, entry_id: str, **values: Any) -> Break:
    """Sets keys of a support, a device or a piece of equipment."""
    return lambda data: put(entry(data, table, entry_id), **values)


def without(entry_id: str) -> Break:
    """A piece of equipment less."""

    def change(data: dict[str, Any]) -> None:
        data["equipment"] = [one for one in data["equipment"] if one["id"] != entry_id]

    return change


def speaks(between: str, number: int = 0, **values: Any) -> Break:
    """Sets keys of one communication of a space, which is added where it is not there."""

    def change(data: dict[str, Any]) -> None:
        stated = space(data, number)["communication"]
        found = [one for one in stated if one["between"] == between]
        if not found:
            found = [{"between": between}]
            stated.append(found[0])
        put(found[0], **values)

    return change


def silent(between: str, number: int = 0) -> Break:
    """Nothing is said of one communication of a space."""

    def change(data: dict[str, Any]) -> None:
        stated = space(data, number)["communication"]
        space(data, number)["communication"] = [one for one in stated if one["between"] != between]

    return change


def after(**values: Any) -> Break:
    """Sets keys of what is done after the event."""
    return lambda data: put(data["after"], **values)


def method(name: str = "primary", number: int = 0, **values: Any) -> Break:
    """Sets keys of one method of one space."""
    return lambda data: put(way(data, name, number), **values)


def under(*entries: str, bind: str = "law") -> str:
    """The text of an overlay with *entries*, each a key and its rows."""
    said = SAID.format(bind=bind)
    return ASKED + "".join(
        f"\n[{key}]\n{said}{rows}\n" for key, _, rows in (one.partition("\n") for one in entries)
    )


def plan_under(folder: Path, overlay: str, *swaps: tuple[str, str]) -> Plan:
    """The complete sample, with words swapped, under an overlay of that text."""
    text = SAMPLE.read_text(encoding="utf-8")
    profile = 'profile = "us-osha-gi"'
    for old, new in ((profile, f'{profile}\noverlays = ["w.toml"]'), *swaps):
        assert old in text, old
        text = text.replace(old, new)
    (folder / "w.toml").write_text(overlay, encoding="utf-8")
    (folder / "site.toml").write_text(text, encoding="utf-8")
    return build_plan(load_site(folder / "site.toml"), on=ON)
