"""Well Engineers Notebook, edition 2, January 2001, page B-1, Derrick load calculations.

Line reeved in N parts over roller-bearing sheaves, tension growing by 1.04 at each (API RP 9B).
The table gives the pull on the fast line over the frictionless pull, load over N.
"""

from typing import NamedTuple

import pytest

from planbuilder.haul.ropes import Reeving, advantage, haul_force_n, ideal_advantage

pytestmark = pytest.mark.published


class FastLine(NamedTuple):
    where: str
    parts: int
    factor: float


@pytest.mark.parametrize(
    "row",
    [
        FastLine("p. B-1, N = 2", 2, 1.060),
        FastLine("p. B-1, N = 4", 4, 1.102),
        FastLine("p. B-1, N = 6", 6, 1.145),
        FastLine("p. B-1, N = 8", 8, 1.188),
        FastLine("p. B-1, N = 10", 10, 1.233),
        FastLine("p. B-1, N = 12", 12, 1.279),
    ],
    ids=lambda row: row.where,
)
def test_fast_line_pull_is_the_printed_share_of_the_frictionless_one(row):
    real = advantage(reeving=Reeving.SIMPLE, parts=(row.parts,), efficiency=1 / 1.04, redirects=1)
    ideal = ideal_advantage(reeving=Reeving.SIMPLE, parts=(row.parts,))

    factor = haul_force_n(system_load_n=ideal, advantage=real)

    assert round(factor, 3) == row.factor
