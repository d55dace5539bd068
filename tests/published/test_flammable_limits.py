"""Lower flammable limits of NFPA 497 (2008) and IEC 60079-20-1 (2010).

As the public library `chemicals` carries them; the documents themselves were not seen.
"""

import pytest
from chemicals.safety import LFL

from planbuilder.tables import table

pytestmark = pytest.mark.published
REGISTRY_NUMBERS = {
    "acetone": "67-64-1",
    "acetylene": "74-86-2",
    "ammonia": "7664-41-7",
    "benzene": "71-43-2",
    "butane": "106-97-8",
    "carbon-monoxide": "630-08-0",
    "ethanol": "64-17-5",
    "ethylene": "74-85-1",
    "hexane": "110-54-3",
    "hydrogen": "1333-74-0",
    "hydrogen-sulfide": "7783-06-4",
    "methane": "74-82-8",
    "pentane": "109-66-0",
    "propane": "74-98-6",
    "toluene": "108-88-3",
}
STANDARDS = {"nfpa-497": "NFPA 497 (2008)", "iec-60079-20-1": "IEC 60079-20-1 (2010)"}


def test_every_substance_of_the_table_has_a_row_here():
    assert set(table("flammable_limits")) == set(REGISTRY_NUMBERS)


@pytest.mark.parametrize("standard", STANDARDS)
@pytest.mark.parametrize("substance", REGISTRY_NUMBERS)
def test_the_table_holds_what_the_library_carries(substance, standard):
    number, method = REGISTRY_NUMBERS[substance], STANDARDS[standard]

    assert table("flammable_limits")[substance][standard] == LFL(CASRN=number, method=method)


@pytest.mark.parametrize(
    ("substance", "iec", "nfpa"),
    [
        ("methane", 0.044, 0.050),
        ("carbon-monoxide", 0.109, 0.125),
        ("hydrogen-sulfide", 0.040, 0.040),
    ],
)
def test_the_two_standards_differ_for_the_same_gas(substance, iec, nfpa):
    row = table("flammable_limits")[substance]

    assert (row["iec-60079-20-1"], row["nfpa-497"]) == (iec, nfpa)
