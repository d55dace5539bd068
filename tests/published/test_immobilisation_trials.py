"""Immobilisation trials: Scand J Trauma Resusc Emerg Med 2021;29 (abstract), and ECJ (abstract).

Long board, 83.4 s in ideal and 112.6 s in realistic conditions (95 % of the mean 102.6 to 122.6 s);
vacuum mattress, 254.4 s and 358.3 s (316.0 to 400.6 s); 94 and 78 runs. Second trial: scoop, median
127 s with quartiles 111 and 145; vacuum mattress 212 s with 156 and 237.
"""

from __future__ import annotations

import math

import pytest

from planbuilder.defaults import tool_defaults
from planbuilder.response.spread import spread_sigma

pytestmark = pytest.mark.published

TRIALS = [(83.4, 112.6, 102.6, 122.6, 94), (254.4, 358.3, 316.0, 400.6, 78)]
QUARTILES = [(111, 145), (156, 237)]
QUARTILE_Z = 0.6745


@pytest.mark.parametrize(("ideal_s", "real_s"), [row[:2] for row in TRIALS])
def test_real_conditions_take_as_much_longer_as_the_realism_default_says(ideal_s, real_s):
    note = tool_defaults().of("drill-realism").source.note
    low, high = (float(word) for word in note.split() if word[0] == "1")

    assert low <= round(real_s / ideal_s, 2) <= high


def test_the_default_spread_lies_between_those_of_teams_in_the_trials():
    """Of a mean's interval: half the runs in each arm, an assumption; of quartiles: directly."""
    by_mean = [
        (high - low) / 3.92 * math.sqrt(runs / 2) / real for _, real, low, high, runs in TRIALS
    ]
    by_quartile = [math.log(high / low) / (2 * QUARTILE_Z) for low, high in QUARTILES]
    spreads = [*by_mean, *by_quartile]

    assert min(spreads) < tool_defaults().of("task-spread").value < max(spreads)


def test_the_spread_of_the_mattress_trial_as_a_crew_would_state_it():
    """A spread of 0.30 is one time in ten at 1.469 times the usual time."""
    assert spread_sigma(usual_s=212, slow_s=212 * 1.469) == pytest.approx(0.30, abs=5e-4)
