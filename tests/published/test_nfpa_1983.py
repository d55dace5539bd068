"""NFPA 1983 (now in NFPA 2500), rope for rescue: strength classes. The text was not seen.

Recalled: general use 9,000 lbf of new rope for a two-person load of 600 lbf, technical use
4,500 lbf for a one-person load of 300 lbf; 4,500 lbf also stands in a secondary copy.
"""

import pytest

from planbuilder.haul.factors import DESIGN_FACTORS
from planbuilder.haul.strength import design_factor

pytestmark = pytest.mark.published


@pytest.mark.parametrize(("strength_lbf", "load_lbf"), [(9000, 600), (4500, 300)])
def test_both_classes_of_rope_have_the_factor_of_the_table(strength_lbf, load_lbf):
    (row,) = [one for one in DESIGN_FACTORS if one.document == "NFPA 1983"]

    factor = design_factor(breaking_n=strength_lbf, efficiency=1.0, tension_n=load_lbf)

    assert factor == row.factor == 15
