"""The two cards at the opening: what stands on them, and what stands there when it is missing."""

from __future__ import annotations

import math

import numpy as np
import pytest

from planbuilder.view.cards import attendant_card, leader_card
from planbuilder.view.report import units_of


def attendant(plan, number: int = 0):
    """The attendant card of one space."""
    return attendant_card(plan, plan.spaces[number])


def leader(plan, number: int = 0):
    """The leader card of one space."""
    return leader_card(plan.spaces[number], units_of(plan))


def test_the_attendant_sees_who_is_inside_and_when_everybody_comes_out(sample_plan):
    card = attendant(sample_plan("pump_station"))

    assert card.inside == ("Bode Arkwell", "Sunniva Pell")
    assert card.at_once == "1"
    assert [(one.label, one.text) for one in card.out_at] == [
        ("Oxygen below", "19.6 %"),
        ("Oxygen above", "23.0 %"),
        ("Flammable from", "9 % LEL"),
        ("Hydrogen sulfide from", "9 ppm"),
        ("Carbon monoxide from", "30 ppm"),
    ]


def test_the_attendant_has_five_steps_and_leaves_to_nobody(sample_plan):
    steps = attendant(sample_plan("pump_station")).steps

    assert steps == (
        "Shout and radio: RESCUE. All work stops; everybody else comes out.",
        "Ines Holloway raises with Hand winch no. 4. Right side of the mast, turn clockwise to "
        "raise.",
        "Kester Lowe calls 911, words below; Corwin Hale opens the gate.",
        "Keep contact with the casualty; count who is out; write down the time.",
        "Stay at the opening to the end. Tell the leader what you see.",
    )


def test_the_attendant_with_a_relief_knows_who_that_is(planned):
    swap = ('attendant = ["tobiah"]', 'attendant = ["tobiah"]\nrelief_attendant = "junia"')

    card = attendant(planned("pump_station", swap))

    assert card.relief == "Junia Farrow"
    assert card.steps[-1] == (
        "Stay at the opening until Junia Farrow relieves you. Tell the leader what you see."
    )


def test_the_attendant_has_the_words_for_the_call(sample_plan):
    card = attendant(sample_plan("pump_station"))

    assert card.script == (
        "Confined space rescue at Larkfold pump station, 4 Weir Lane, Larkfold, Ellerbrook Vale.",
        "Come to: North gate, Weir Lane; code with the control room. Corwin Hale meets you there.",
        "PERMIT SPACE WW-2: Raised slab behind the brick pump house, 21 ft deep.",
        "____ person(s); awake yes / no; breathing yes / no. "
        "Hazards: hydrogen sulfide, drowning, medical collapse.",
        "My name is ____. Call back 555-0110.",
    )
    assert [(one.label, one.text) for one in card.calls] == [
        ("Emergency", "911"),
        ("Leader", "Mirela Tarn 555-0131"),
        ("Competent person", "555-0142"),
        ("Number tried", "16 Nov 2026; today at ____"),
    ]


def test_what_nobody_stated_is_said_in_capitals_and_never_left_blank(sample_plan):
    card = attendant(sample_plan("half_measured"))

    assert card.contact == "Radio; how often: NOT STATED"
    assert card.calls[1].text == "NOT STATED"
    assert card.script[2] == "VAULT Q-3: Round cover in the parking lane, depth not known."


def test_the_limit_stands_where_the_set_point_is_looser_or_missing(sample_plan):
    """The attendant acts on the stricter of the two."""
    loose = {one.label: one.text for one in attendant(sample_plan("call_and_wait")).out_at}
    missing = {one.label: one.text for one in attendant(sample_plan("half_measured")).out_at}

    assert loose["Oxygen below (limit, the plan says 19.0 %)"] == "19.5 %"
    assert loose["Flammable from (limit, the plan says 20 %)"] == "10 % LEL"
    assert missing["Oxygen above (limit, no set-point is stated)"] == "23.5 %"
    assert missing["Hydrogen sulfide from (limit, no set-point is stated)"] == "10 ppm"
    assert not any(label.startswith("Carbon") for label in missing)


def test_a_set_point_stricter_than_the_limit_stays_as_the_site_set_it(planned):
    plan = planned("pump_station", ('hydrogen_sulfide = "9 ppm"', 'hydrogen_sulfide = "5 ppm"'))

    texts = {one.label: one.text for one in attendant(plan).out_at}

    assert texts["Hydrogen sulfide from"] == "5 ppm"


def test_where_nobody_is_named_to_rescue_nobody_enters(sample_plan):
    steps = attendant(sample_plan("call_and_wait")).steps

    assert steps[1] == "NO RESCUE TEAM IS NAMED: nobody enters before that is settled."
    assert steps[2] == "Oona Strand calls 911, words below."


def test_a_height_position_has_words_of_its_own(sample_plan):
    plan = sample_plan("call_and_wait")
    inside, above = attendant(plan, 0), attendant(plan, 1)

    assert inside.ban == "DO NOT GO IN. DO NOT LEAN IN."
    assert above.ban == "DO NOT CLIMB AFTER THE CASUALTY."
    assert above.out_at == ()
    assert above.script[0].startswith("Rescue at height at ")
    assert "deep" not in " ".join(above.script)
    assert "opening" not in " ".join(above.steps)


def test_the_leader_of_a_height_position_is_not_told_of_readings_that_nobody_takes(sample_plan):
    abort = " ".join(leader(sample_plan("call_and_wait"), 1).abort)

    assert "reading" not in abort


def test_the_leader_knows_when_to_change_to_the_fallback(sample_plan):
    abort = leader(sample_plan("pump_station")).abort

    assert abort[0] == (
        "No air to the casualty after 4 min: go to the fallback now if you have not."
    )


def test_a_leader_without_a_fallback_is_not_sent_to_one(sample_plan):
    plan = sample_plan("call_and_wait")
    assert plan.site.space[0].rescue.fallback is None

    assert not any("go to the fallback" in line for line in leader(plan).abort)


def test_the_leader_sees_methods_people_and_gear(sample_plan):
    primary, fallback = leader(sample_plan("pump_station")).methods

    assert (primary.name, primary.kind, primary.posture) == ("Primary", "non entry", "standby")
    assert [(one.label, one.text) for one in primary.roles] == [
        ("Leader", "Mirela Tarn 555-0131"),
        ("Haul", "Ines Holloway 555-0135"),
        ("Medic", "Dagny Ruel 555-0136"),
        ("Caller", "Kester Lowe 555-0137"),
    ]
    gear = {one.label: one.text for one in primary.gear}
    assert gear["Anchor"] == "Legged davit no. 2; Rigged over the wet well"
    assert gear["Backup"] == "Self-retracting line no. 3"
    assert gear["Attached at"] == "back D-ring"
    assert {one.label: one.text for one in fallback.gear}["Backup"] == "none"
    by_hand = {one.label: one.text for one in fallback.gear}
    assert by_hand["If it stops"].startswith("Whoever sees the casualty calls STOP")


def test_the_leader_sees_the_worst_verdict_of_each_question(sample_plan):
    answers = {one.label: one.text for one in leader(sample_plan("call_and_wait")).answers}

    assert answers["■ Casualty fits"].startswith("FAILS: opening needed: ")
    assert answers["■ Line reaches, primary"].startswith("FAILS: line needed: ")
    assert answers["○ Support holds, primary"].startswith("MEETS: ")


def test_a_leader_without_times_has_no_clock(sample_plan):
    assert leader(sample_plan("half_measured")).clocks == ()


# The wet well by hand: recognise 30 s; raise (6.4008 + 0.1524 + 0.15) m at 3.81 m/min, 105.56 s
# with the usual spread of 0.30; the rest as the site file states them: usual, one in ten.
STEPS = {
    "alarm": (10, 15),
    "call": (90, 180),
    "raise": (105.56, 105.56 * math.exp(0.3 * 1.2816)),
    "lay-down": (25, 38),
    "clear": (40, 70),
    "ambulance": (840, 1440),
    "hand-over": (60, 120),
}


def half_minute_up(seconds: float) -> str:
    halves = math.ceil(seconds / 30)
    return f"{halves // 2}:{halves % 2 * 30:02d}"


@pytest.mark.parametrize(
    ("number", "name"),
    [(0, "Air to the casualty"), (1, "Casualty out"), (2, "Handed over to the ambulance crew")],
)
def test_the_clocks_are_what_a_plain_simulation_says_up_to_the_next_half_minute(
    sample_plan, number, name
):
    runs = 200_000
    rng = np.random.default_rng(4)
    shared = rng.standard_normal(runs)
    took = {
        step: usual
        * np.exp(
            math.log(slow / usual)
            / 1.2816
            * (math.sqrt(0.3) * shared + math.sqrt(0.7) * rng.standard_normal(runs))
        )
        for step, (usual, slow) in STEPS.items()
    }
    alarm = 30 + took["alarm"]
    air = alarm + took["raise"] + took["lay-down"]
    out = air + took["clear"]
    over = np.maximum(out, alarm + took["call"] + took["ambulance"]) + took["hand-over"]
    times = (air, out, over)[number]
    slow, ordinary = (half_minute_up(np.quantile(times, one)) for one in (0.9, 0.5))
    clock = leader(sample_plan("pump_station")).clocks[number]

    assert (clock.name, clock.slow, clock.ordinary) == (name, slow, ordinary)


def test_the_leader_has_the_readings_to_act_on_in_both_units(sample_plan):
    """Worked out apart, with the equation of state of air: 119.2, 46.3 and 105.6 bar."""
    gear = {one.label: one.text for one in leader(sample_plan("pump_station"), 1).methods[1].gear}

    assert gear["Turn back where the casualty is not reached by"] == (
        "1730 psi (120 bar), lowest gauge"
    )
    assert gear["Turn back after a drop of"] == "671 psi (46 bar), lowest gauge"
    assert gear["Start the way out at"] == "1532 psi (106 bar), lowest gauge"


def test_where_the_air_does_not_last_the_leader_gets_no_reading(planned):
    plan = planned("pump_station", ('water_volume = "6.8 L"', 'water_volume = "1 L"'))

    labels = [one.label for one in leader(plan, 1).methods[1].gear]

    assert labels == ["Breathing set", "Air"]  # which does not last


def test_an_opening_in_the_side_is_not_said_to_be_deep(sample_plan, planned):
    card = attendant(sample_plan("storage_tank"))
    unknown = attendant(planned("storage_tank", ('depth = "2 ft"\n', "")))
    where = "PERMIT SPACE T-3: Last of three steel tanks; south manway, 3 ft above the gravel"

    assert card.script[2] == f"{where}, entered from the side, floor 2 ft below the sill."
    assert unknown.script[2] == f"{where}, entered from the side, height of the sill not known."


@pytest.mark.parametrize(
    ("posture", "step"),
    [
        ("standby", "{} stand by here: they go in on the leader's word."),
        ("available-on-site", "Radio {} to the opening: they go in on the leader's word."),
        ("available-off-site", "Call {} to come from off site: nobody else goes in."),
        ("notified-only", "Call {}, who do not wait for this call: nobody else goes in."),
    ],
)
def test_the_attendant_asks_of_the_rescuers_what_their_posture_says(planned, posture, step):
    plan = planned("storage_tank", ('posture = "standby"', f'posture = "{posture}"'))

    assert attendant(plan).steps[1] == step.format("Dagny Ruel, Kester Lowe")


def test_a_service_that_goes_in_is_called_from_the_card(planned):
    swap = ('posture = "notified-only"', 'posture = "available-off-site"')

    steps = attendant(planned("call_and_wait", swap)).steps

    assert steps[1] == "Call Town fire brigade, 911, to come from off site: nobody else goes in."


def test_the_leader_without_a_line_is_told_of_the_gauge_and_not_of_the_line(sample_plan):
    tank, deck = (leader(sample_plan(one)).abort for one in ("storage_tank", "transformer_deck"))

    assert not any("line" in line for line in tank)
    assert any("lowest gauge" in line for line in tank)
    assert any(line.startswith("The line does not move") for line in deck)
    assert not any("gauge" in line for line in deck)
    assert deck[-1].endswith("or the wind is too strong: everybody down.")


def test_the_card_of_a_height_position_says_down_and_not_out(sample_plan):
    card = attendant(sample_plan("transformer_deck"))

    assert (card.leave, card.roster) == ("Everybody DOWN", "Who is up there")
    assert card.steps[0].endswith("everybody else comes down.")
