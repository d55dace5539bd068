"""Friction, worked examples with solutions (transtutors.com): rope wound on a post.

One and a half turns, friction 0.25, 1000 N on one end. The text misprints the given tension as
100 N; its results are those for 1000 N.
"""

import math

import pytest

from planbuilder.haul.friction import edge_factor

pytestmark = pytest.mark.published

TURNS_RAD = 1.5 * math.tau


def test_pull_that_moves_the_rope_is_the_printed_one():
    assert round(1000 * edge_factor([(0.25, TURNS_RAD)]), 2) == 10550.72


def test_pull_that_holds_the_rope_is_the_printed_one():
    assert round(1000 / edge_factor([(0.25, TURNS_RAD)]), 2) == 94.78
