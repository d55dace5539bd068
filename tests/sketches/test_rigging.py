"""The rigging diagram: every part of the chain is named, with its load, and the weakest marked."""

from __future__ import annotations

import pytest
from broken_haul import rig
from broken_sites import ON, Break, entry, plan_with
from every_support import every_support
from on_paper import SAMPLES, drawings, overlaps

from planbuilder.plan import Plan, build_plan
from planbuilder.sketches.rigging import SCHEMATIC
from planbuilder.view.chain import parts_of, weakest
from planbuilder.view.drawing import Drawing

MARK = "WEAKEST"
PAGE_MM = 212.0  # what a Letter page leaves beside head, foot, title and notes
REDIRECTS = [{"angle": "90 deg", "rating": "12 kN"}, {"angle": "120 deg"}]


def redirected(**values: object) -> Break:
    """A line that is led off over two sheaves, one of them without a rating."""
    return rig(redirect=REDIRECTS, lead_distance="2 m", **values)


def diagrams(plan: Plan) -> dict[str, Drawing]:
    """The rigging diagrams of a plan by their id."""
    return {one.id: one for one in drawings(plan) if one.id.endswith("-rigging")}


def of(plan: Plan, name: str = "wet-well-primary-rigging") -> str:
    """Everything that one diagram says."""
    return diagrams(plan)[name].alt


@pytest.mark.parametrize("name", SAMPLES)
def test_every_part_of_every_chain_is_on_the_diagram(sample_plan, name):
    plan = sample_plan(name)
    drawn = diagrams(plan)

    for space in plan.spaces:
        for way in space.scene.ways():
            if way.rig is None:
                continue
            alt = drawn[f"{space.scene.space.id}-{way.name}-rigging"].alt
            said = alt.count(": carries") + alt.count(", required") + alt.count("as stated")
            said += alt.count("UNKNOWN haul/")
            assert said == len(parts_of(space, way.name))
            assert alt.count(MARK) == (weakest(space, way.name) is not None)


def test_the_weakest_part_of_the_wet_well_is_its_backup(sample_plan):
    """Of its parts the retractor has the least reserve: 310 lbf for 211 lbf."""
    alt = of(sample_plan("pump_station"))

    marked = next(one for one in alt.split("; ") if MARK in one)
    assert marked.startswith("Load on the backup device: carries 211 lbf")
    assert "holds 310 lbf" in marked


def test_a_connector_says_tension_strength_and_factor(sample_plan):
    """232 lbf is the weight of 211 lbf times the factor of a winch, 1.1."""
    said = "Swivel hook: pulled by 232 lbf (1.03 kN), breaks at 5000 lbf (22.24 kN), factor 21.58"

    assert said in of(sample_plan("pump_station"))


def test_a_diagram_says_that_it_is_schematic(sample_plan):
    for one in diagrams(sample_plan("pump_station")).values():
        assert one.caution == "SCHEMATIC, NOT TO SCALE"
        assert one.legend == SCHEMATIC
        assert one.scale_path == ""


def test_redirects_stand_with_their_angle_and_an_unrated_one_is_unknown():
    alt = of(plan_with(redirected()))

    assert "redirect 1, 90 deg between its strands: carries" in alt
    assert "redirect 2, 120 deg between its strands: UNKNOWN haul/redirect-overloaded" in alt


def test_a_part_that_fails_is_bold_and_names_its_rule():
    plan = plan_with(lambda data: entry(data, "device", "retractor-3").update(rated_load="150 lbf"))
    drawing = diagrams(plan)["wet-well-primary-rigging"]

    bold = " ".join(one.text for one in drawing.texts if one.bold)
    assert "FAILS" in bold
    assert "haul/backup-overloaded" in bold.replace("- ", "-")


def test_a_backup_on_its_own_support_shows_it():
    alt = of(plan_with(rig(backup_support="gantry")))

    assert "Support of the backup: Pump hoist beam" in alt


def test_of_many_parts_the_weakest_are_drawn_and_the_rest_counted():
    """Nine connectors and eight sheaves, all with much to say: they stay on one page."""
    many = [{"name": f"Shackle with a swivel, number {n}", "breaking": "20 kN"} for n in range(9)]
    many[7]["breaking"] = "12 kN"
    turns = [{"angle": "90 deg", "rating": "12 kN"}] * 8
    edges = [{"material": "roller", "turn": "90 deg"}] * 9
    change = rig(link=many, redirect=turns, edges=edges, lead_distance="2 m")
    drawing = diagrams(plan_with(change))["wet-well-primary-rigging"]

    assert "4 stronger connectors stand in the chain, not here." in drawing.notes
    assert "5 stronger redirects stand in the chain, not here." in drawing.notes
    assert "Shackle with a swivel, number 7" in drawing.alt
    assert "and 6 more" in drawing.alt
    assert float(drawing.height) < PAGE_MM
    assert overlaps(drawing) == []


def test_no_words_touch_on_any_kind_of_support():
    plan = build_plan(every_support(), on=ON)

    for one in diagrams(plan).values():
        assert overlaps(one) == [], one.title
        assert float(one.height) < PAGE_MM
