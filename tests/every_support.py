"""A site with one space for each kind of support, put together from the samples."""

import copy
import tomllib
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from broken_haul import COLLAR, FLOOR, LINE, WALL, WALL_OWN
from broken_sites import SAMPLES, entry

from planbuilder.site.fields import FileIds
from planbuilder.site.file import Site
from planbuilder.site.load import SiteFile, declared_ids
from planbuilder.site.supports import SupportKind

OWN_KINDS = {"floor": FLOOR, "wall": WALL + WALL_OWN, "collar": COLLAR, "line": LINE}
MARKED = {
    "rated_load": "450 lbf",
    "two_line_load": "900 lbf",
    "arrest_load": "3600 lbf",
    "rated_reach": "48 in",
    "separate_pins": True,
    "for_people": True,
    "at_opening": True,
    "serial": "EV-0001",
    "lines": 2,
    "judged_by": "Ansel Brandt, structural engineer",
    "inspected": date(2026, 11, 9),
    "inspection_interval": "6 weeks",
}
STAND = {
    "ground": "gravel",
    "surface": "dry-concrete",
    "slope": "2 deg",
    "slope_towards": "0 deg",
    "edge_distance": "2 m",
    "wall": "shoring-panel",
    "wall_thickness": "5 in",
    "wall_height": "3 ft",
    "height": "4 ft",
    "people_on_post": 1,
    "ledge_width": "2 in",
}


@cache
def _sample(name: str) -> dict[str, Any]:
    return tomllib.loads((SAMPLES / f"{name}.toml").read_text(encoding="utf-8"))


def every_support() -> SiteFile:
    """The site file, read and ready to be checked."""
    data = copy.deepcopy(_sample("shored_trench"))
    eye = entry(data, "support", "excavator-eye")
    eye["leg"] = [
        {"lean": "25 deg", "towards": f"{turn} deg", "length": "1 m", "stiffness": "200 kN"}
        for turn in (0, 120, 240)
    ]
    data["support"] += [
        entry(_sample("pump_station"), "support", "davit-2"),
        entry(_sample("transformer_deck"), "support", "post-1"),
        entry(_sample("transformer_deck"), "support", "arm-1"),
    ]
    data["support"] += [
        {"id": name, "name": f"The {name}", **tomllib.loads(text)}
        for name, text in OWN_KINDS.items()
    ]
    data["support"] = [{**MARKED, **one} for one in data["support"]]
    by_kind = {one["kind"]: one["id"] for one in data["support"]}
    template = data["space"][0]
    del data["override"]  # it names a space of the sample
    data["space"] = [_space(template, kind, by_kind[kind]) for kind in SupportKind]
    for number, one in enumerate(data["space"], 1):  # one crew, one opening a day
        one["task"] = {
            **one["task"],
            "start": date(2026, 12, number),
            "finish": date(2026, 12, number),
        }
    data["drill"] = [_drill(data["drill"][0], data["space"], number) for number in range(3)]
    site = Site.model_validate(data, context=FileIds(declared_ids(data)))
    return SiteFile(Path("every_support.toml"), repr(data), site)


def _drill(template: dict[str, Any], spaces: list[dict[str, Any]], number: int) -> dict[str, Any]:
    """One of three drills for every space, held where it is no easier."""
    drill = {key: value for key, value in template.items() if key != "held_in"}
    return drill | {
        "id": f"drill-{number}",
        "on": date(2026, 11, 5 - number),
        "space": [one["id"] for one in spaces],
        "opening": "24 in",
        "depth": "30 ft",
        "from_side": False,
    }


def _space(template: dict[str, Any], kind: SupportKind, support: str) -> dict[str, Any]:
    space = copy.deepcopy(template)
    space.update(id=f"at-{kind}", name=f"Pit with {kind}")
    space["opening"] = {"shape": "round", "diameter": "24 in", "coaming": "0 in", "neck": "8 in"}
    space["opening"]["measured"] = "smallest-ring"
    for name in ("primary", "fallback"):
        rig = space["rescue"][name]["rig"]
        rig.update(support=support, stand=STAND, foot_levels=["0 in", "0 in", "0 in"])
        rig.update(reach="24 in", swing_from="-90 deg", swing_to="90 deg")
    space["rescue"]["primary"]["rig"]["overhead"]["hinge_height"] = "12 in"
    space["rescue"]["primary"]["rig"]["winch_on_leg"] = True
    space["rescue"]["fallback"]["rig"]["lead_distance"] = "1 ft"
    return space
