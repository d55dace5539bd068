"""Factors on breaking strength, and what else documents ask of lines, drums and sheaves.

As printed there, with the clause. Most rule on machines that carry people: for a casualty on a line
they serve by analogy, and a plan says which of them it goes by. A mark says how well a row is
known, in the words of a source: read, recalled, or choice, which is our own.
"""

from dataclasses import dataclass

_READ, _RECALLED, _CHOICE = "read", "recalled", "choice"
_MACHINERY = "2006/42/EC"
_DOUBLED = "Annex I 6.1.1: as a general rule twice the {}"


@dataclass(frozen=True, slots=True)
class DesignFactor:
    """Breaking strength over load that a use asks for; a choice of ours names no document.

    *line* is the kind of line that a published row is about, "" for parts and for practice.
    """

    use: str
    factor: float
    document: str
    clause: str
    mark: str
    line: str = ""


@dataclass(frozen=True, slots=True)
class LeastCount:
    """How many of something a use asks for at least."""

    use: str
    count: int
    document: str
    clause: str
    mark: str


@dataclass(frozen=True, slots=True)
class Termination:
    """Share of its strength that a line must keep, or keeps, at its end."""

    use: str
    efficiency: float
    document: str
    clause: str
    mark: str


@dataclass(frozen=True, slots=True)
class SheaveRatio:
    """Least diameter of a sheave or drum over that of the rope.

    Below *critical* the wires cannot settle to the bend; None where the document gives none.
    """

    rope: str
    least: float
    critical: float | None
    document: str
    clause: str
    mark: str


DESIGN_FACTORS = (
    DesignFactor("wire rope, as rigged", 10, "", "", _CHOICE),
    DesignFactor("textile rope, after knots", 10, "", "", _CHOICE),
    DesignFactor("textile rope, as bought", 15, "", "", _CHOICE),
    DesignFactor("hardware", 5, "", "", _CHOICE),
    DesignFactor(
        "hardware and slings of a crane-hung platform", 5, "29 CFR 1926.1431", "(g)", _READ
    ),
    DesignFactor("the same, rotation-resistant rope", 10, "29 CFR 1926.1431", "(g)", _READ),
    DesignFactor(
        "rope and hardware of a non-adjustable suspended scaffold, on the intended load",
        6,
        "29 CFR 1926.451",
        "(a)(3)",
        _READ,
        "wire",
    ),
    DesignFactor(
        "rope of an adjustable suspended scaffold, on the intended load; or 2 on the stall load",
        6,
        "29 CFR 1926.451",
        "(a)(4)",
        _READ,
        "wire",
    ),
    DesignFactor(
        "suspension ropes of a powered platform, all together",
        10,
        "29 CFR 1910.66",
        "(f)(7)(ii)",
        _READ,
        "wire",
    ),
    DesignFactor(
        "rope that hoists persons in a shaft up to 500 ft, new",
        8,
        "California Title 8 s. 7135",
        "(b)",
        _READ,
        "wire",
    ),
    DesignFactor(
        "the same, to be discarded below", 6.4, "California Title 8 s. 7135", "(b)", _READ
    ),
    DesignFactor(
        "rope and its termination, machine that lifts persons",
        10,
        _MACHINERY,
        _DOUBLED.format("5 of 4.1.2.4"),
        _READ,
        "wire",
    ),
    DesignFactor(
        "chain, machine that lifts persons", 8, _MACHINERY, _DOUBLED.format("4 of 4.1.2.4"), _READ
    ),
    DesignFactor(
        "textile rope or sling, machine that lifts persons",
        14,
        _MACHINERY,
        _DOUBLED.format("7 of 4.1.2.5"),
        _READ,
        "textile",
    ),
    DesignFactor(
        "metal parts of a sling, machine that lifts persons",
        8,
        _MACHINERY,
        _DOUBLED.format("4 of 4.1.2.5"),
        _READ,
    ),
    DesignFactor(
        "rescue rope, on the load of its class",
        15,
        "NFPA 1983",
        "rope classes",
        _RECALLED,
        "textile",
    ),
    DesignFactor("weakest part of a rescue system at rest", 10, "training practice", "", _RECALLED),
)

LEAST_COUNTS = (
    LeastCount("wraps left on the drum at the lowest point", 3, "", "", _CHOICE),
    LeastCount("wraps left on the drum of a crane or hoist", 2, "Army TB 43-0142", "(7)", _READ),
    LeastCount("wraps left on the drum of a hoist for persons", 3, "30 CFR 75.1436", "(b)", _READ),
    LeastCount(
        "wraps left on the drum of a suspended scaffold hoist",
        4,
        "29 CFR 1926.451",
        "(d)(6)",
        _READ,
    ),
    LeastCount(
        "wraps left on the drum of a powered platform", 3, "29 CFR 1910.66", "(f)(7)(ix)", _READ
    ),
    LeastCount(
        "independent ropes or chains of a carrier, each with its own anchorage",
        2,
        _MACHINERY,
        "Annex I 6.1.1: as a general rule",
        _READ,
    ),
)

TERMINATIONS = (
    Termination("end of a wire rope that hoists persons", 0.80, "30 CFR 57.19025", "(a)", _READ),
    Termination(
        "rope connections of a powered platform", 0.80, "29 CFR 1910.66", "(f)(7)(i)", _READ
    ),
    Termination("knot in textile rope, 0.60 to 0.75", 0.67, "training practice", "", _RECALLED),
)

SHEAVE_RATIOS = (
    SheaveRatio("6x19 Seale", 34, 20, "Army TB 43-0142", "table A-1", _READ),
    SheaveRatio("6x19 Warrington", 30, 16, "Army TB 43-0142", "table A-1", _READ),
    SheaveRatio("6x16 filler wire", 30, 16, "Army TB 43-0142", "table A-1", _READ),
    # The copy is blurred here, 26 or 30: the higher figure stands.
    SheaveRatio("flattened strand", 30, 16, "Army TB 43-0142", "table A-1", _READ),
    SheaveRatio("8x19 Seale", 30, 16, "Army TB 43-0142", "table A-1", _READ),
    SheaveRatio("8x37 Seale", 18, 14, "Army TB 43-0142", "table A-1", _READ),
    SheaveRatio("6x37", 18, None, "Army TB 43-0142", "table A-1, note 3", _READ),
    SheaveRatio("6x19, hoisting persons", 30, None, "4 VAC 25-40-4360", "minimum", _READ),
    SheaveRatio("6x37, hoisting persons", 18, None, "4 VAC 25-40-4360", "minimum", _READ),
    SheaveRatio("18x7, hoisting persons", 34, None, "4 VAC 25-40-4360", "minimum", _READ),
    SheaveRatio(
        "any, hoist drum or running sheave of a crane", 18, None, "ASME B30.5", "", _RECALLED
    ),
)

PERSONNEL_HOIST_FACTORS = (
    (50, 7.60),
    (75, 7.75),
    (100, 7.95),
    (125, 8.10),
    (150, 8.25),
    (175, 8.40),
    (200, 8.60),
    (225, 8.75),
    (250, 8.90),
    (300, 9.20),
    (350, 9.50),
    (400, 9.75),
    (450, 10.00),
    (500, 10.25),
    (550, 10.45),
    (600, 10.70),
)
"""Speed of the rope in ft/min, minimum factor of safety: WAC 296-155-77105, table."""
