"""Published least openings as shipped, in mm or inches as printed, each with its mark."""

import pytest

from planbuilder.tables import table

pytestmark = pytest.mark.published
INCH = 25.4
# document, facing, sizes in mm (one: round), how it is known
ROWS = [
    ("IGC Code", "up", (600, 600), "read"),
    ("IGC Code", "side", (800, 600), "read"),
    ("IGC Code", "any", (600,), "read"),
    ("EN 124-1", "up", (600,), "recalled"),
    ("BS 470", "any", (575,), "recalled"),
    ("IMO hold access", "up", (600, 600), "read"),
    ("Special service craft rules", "up", (450, 450), "read"),
    ("Factories Act 1961", "any", (18 * INCH, 16 * INCH), "recalled"),
    ("Factories Act 1961", "any", (18 * INCH,), "recalled"),
    ("API 650", "any", (20 * INCH,), "recalled"),
    ("ASME BPVC VIII-1", "any", (16 * INCH,), "recalled"),
    ("ASME BPVC VIII-1", "any", (16 * INCH, 12 * INCH), "recalled"),
    ("MIL-STD-1472F", "up", (580, 330), "recalled"),
    ("MIL-STD-1472F", "up", (690, 410), "recalled"),
    ("MIL-STD-1472F", "side", (760, 660), "recalled"),
    ("MIL-STD-1472F", "side", (860, 740), "recalled"),
]


def shipped(row):
    sizes = [row["round"]] if "round" in row else [row["long"], row["short"]]
    return (row["document"], row["facing"], tuple(round(1000 * one, 3) for one in sizes))


def test_every_row_is_as_printed_and_says_how_it_is_known():
    rows = table("least_openings")["opening"]
    wanted = {
        (document, facing, tuple(round(one, 3) for one in sizes)): mark
        for document, facing, sizes, mark in ROWS
    }

    assert {shipped(one): one["mark"] for one in rows} == wanted
    assert len(rows) == len(ROWS)
