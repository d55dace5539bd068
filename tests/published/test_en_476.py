"""EN 476: no access for people under a bore of 800 mm (5.3.4, an extract of the 2011 text).

Access now and then from 800 mm, routine access from 1000 mm: recalled.
"""

import pytest

from planbuilder.checks.room.access_class import access_class

pytestmark = pytest.mark.published


@pytest.mark.parametrize(
    ("bore_m", "words"),
    [(0.79, "no access"), (0.8, "now and then"), (0.999, "now and then"), (1.0, "routine")],
)
def test_class_of_access_by_bore(bore_m, words):
    row = access_class(bore_m)

    assert words in row["what"]
    assert row["holds"] is (bore_m >= 0.8)
    assert row["mark"] == "recalled"
