"""What the author of a site file reads after each kind of slip: the whole line, word for word.

Every row changes one thing in a complete sample. The line number is not written here: it is that
of the place where *where* begins, looked up in the changed file.
"""

from __future__ import annotations

from typing import NamedTuple

import pytest

from planbuilder.site.space import Space

LENGTH = 'such as "24 in" or "6.4 m"'
KINDS = "winch, self-retracting-line, rope-system or lowering-device"
POSTURES = "standby, available-on-site, available-off-site or notified-only"
STEPS = "recognise, alarm, call, raise, lay-down, clear, ambulance, hand-over"


class Slip(NamedTuple):
    """A swap in the pump station file, where it is reported, and how."""

    old: str
    new: str
    where: str
    message: str


def depth(value: str, words: str, got: str) -> Slip:
    """A slip in the depth of the first space."""
    new = f"depth = {value}"
    return Slip('depth = "21 ft"', new, new, f"space[1].shape.depth: {words} (got {got})")


QUANTITIES = {
    "a bare number": depth("21", f"needs text with a unit, {LENGTH}", "21"),
    "a bare decimal": depth("6.4", f"needs text with a unit, {LENGTH}", "6.4"),
    "a truth value": depth("true", f"needs text with a unit, {LENGTH}", "true"),
    "a list": depth('["21 ft"]', f"needs text with a unit, {LENGTH}", "a list"),
    "a table": depth("{ ft = 21 }", f"needs text with a unit, {LENGTH}", "a table"),
    "a bare infinity": depth("inf", f"needs text with a unit, {LENGTH}", "inf"),
    "a bare nan": depth("nan", f"needs text with a unit, {LENGTH}", "nan"),
    "no unit": depth('"21"', f"must be a number and a unit, {LENGTH}", '"21"'),
    "no number": depth('"deep"', f"must be a number and a unit, {LENGTH}", '"deep"'),
    "nothing": depth('""', 'is empty; write it as "24 in" or "6.4 m"', '""'),
    "the wrong kind of unit": depth(
        '"21 kg"',
        '"kg" is not a unit of the wanted kind; write it as "24 in" or "6.4 m"',
        '"21 kg"',
    ),
    "a misspelt unit": depth('"21 fete"', 'unknown unit "fete", did you mean "feet"?', '"21 fete"'),
    "a unit like no other": depth('"21 qqq"', 'unknown unit "qqq"', '"21 qqq"'),
    "a negative size": depth('"-21 ft"', "must be more than 0 m", '"-21 ft"'),
    "a size of zero": depth('"0 ft"', "must be more than 0 m", '"0 ft"'),
    "a slipped unit": depth('"9000 ft"', "must be 500 m or less", '"9000 ft"'),
    "a large exponent": depth('"1e99 m"', "must be 500 m or less", '"1e99 m"'),
    "infinity by exponent": depth('"1e999 m"', f"must be a finite number, {LENGTH}", '"1e999 m"'),
    "infinity in words": depth('"inf m"', f"must be a number and a unit, {LENGTH}", '"inf m"'),
    "infinity in full": depth(
        '"Infinity m"', f"must be a number and a unit, {LENGTH}", '"Infinity m"'
    ),
    "nan in words": depth('"nan m"', f"must be a number and a unit, {LENGTH}", '"nan m"'),
    "a decimal comma": depth('"12,5 ft"', f"must be a number and a unit, {LENGTH}", '"12,5 ft"'),
    "arithmetic": depth('"9**9**9 ft"', f"must be a number and a unit, {LENGTH}", '"9**9**9 ft"'),
    "a negative distance": Slip(
        'liquid_depth = "4 ft"',
        'liquid_depth = "-1 ft"',
        'liquid_depth = "-1 ft"',
        'space[1].shape.liquid_depth: must be 0 m or more (got "-1 ft")',
    ),
    "a share above the whole": Slip(
        'oxygen_low = "19.6 %"',
        'oxygen_low = "195 %"',
        'oxygen_low = "195 %"',
        'space[1].set_points.oxygen_low: must be 1 or less (got "195 %")',
    ),
    "a bare number in a list of positions": Slip(
        '["-10 in", "40 in"]',
        '["-10 in", 40]',
        'feet = [["-10 in", "-40 in"], ["-10 in", 40]',
        f"support[1].feet[2][2]: needs text with a unit, {LENGTH} (got 40)",
    ),
}

KEYS = {
    "a misspelt key": Slip(
        'depth = "21 ft"',
        'dpeth = "21 ft"',
        'dpeth = "21 ft"',
        'space[1].shape.dpeth: is not a known key, did you mean "depth"?',
    ),
    "a key like no other": Slip(
        'depth = "21 ft"',
        'depth = "21 ft"\nzebra = 1',
        "zebra = 1",
        "space[1].shape.zebra: is not a known key; known here: depth, inside_height, "
        "inside_is, inside_length, inside_width, liquid_depth, obstructed, volume",
    ),
    "a key of another kind of device": Slip(
        "pulley_efficiency = 0.92",
        'pulley_efficiency = 0.92\ndrum_width = "4.5 in"',
        'drum_width = "4.5 in"',
        "device[3].drum_width: is not a known key; known here: at_opening, cleared_by, cleared_on, "
        "condition, examined, examined_by, fetched_by, for_people, gap, grab_slips_at, "
        "haul_rope_length, id, inspected, inspection_interval, kept_at, kind, line_breaking, "
        "line_diameter, line_elongation, line_elongation_at, line_is, line_length, line_speed, "
        "line_stiffness, name, parts, pulley_efficiency, pulley_rating, pulleys_apart, "
        "rated_load, rated_people, redirects, reeving, reset_distance, rope, serial, "
        "shared_with_material, sheave, "
        "sheave_diameter, sheaves_are, stage_distances, termination",
    ),
    "a misspelt table": Slip(
        "[space.opening]",
        "[space.openning]",
        "[space.openning]",
        'space[1].openning: is not a known key, did you mean "opening"?',
    ),
    "a missing key": Slip(
        'sign = "PERMIT SPACE WW-2"\n',
        "",
        '[[space]]\nid = "wet-well"',
        "space[1].sign: is missing",
    ),
    "a missing key of the plan": Slip(
        'number = "EV-RP-0017"\n', "", "[plan]", "plan.number: is missing"
    ),
    "a device without a kind": Slip(
        'kind = "rope-system"\n',
        "",
        '[[device]]\nid = "rope-set"',
        "device[3].kind: has no kind; state what it is",
    ),
}

CHOICES = {
    "a misspelt choice": Slip(
        'posture = "standby"',
        'posture = "stanby"',
        'posture = "stanby"',
        f"space[1].rescue.primary.posture: must be one of {POSTURES}, "
        'did you mean "standby"? (got "stanby")',
    ),
    "a choice like no other": Slip(
        'posture = "standby"',
        'posture = "qqqq"',
        'posture = "qqqq"',
        f'space[1].rescue.primary.posture: must be one of {POSTURES} (got "qqqq")',
    ),
    "a number for a choice": Slip(
        'posture = "standby"',
        "posture = 3",
        "posture = 3",
        f"space[1].rescue.primary.posture: must be one of {POSTURES} (got 3)",
    ),
    "a misspelt kind of device": Slip(
        'kind = "rope-system"',
        'kind = "rope-sytem"',
        'kind = "rope-sytem"',
        f'device[3].kind: must be one of {KINDS}, did you mean "rope-system"? (got "rope-sytem")',
    ),
    "a misspelt computed step": Slip(
        'computed = "detection"',
        'computed = "detecton"',
        'computed = "detecton"',
        "space[1].rescue.primary.step[1].computed: must be one of detection, haul, off-site, "
        'route-in or route-out, did you mean "detection"? (got "detecton")',
    ),
}

REFERENCES = {
    "a misspelt id": Slip(
        'device = "winch-4"',
        'device = "winch-44"',
        'device = "winch-44"',
        "space[1].rescue.primary.rig.device: is not the id of a device, "
        'did you mean "winch-4"? (got "winch-44")',
    ),
    "an id like no other": Slip(
        'escort = "corwin"',
        'escort = "qqqqqq"',
        'escort = "qqqqqq"',
        "site.escort: is not the id of a person, known: mirela, bode, sunniva, tobiah, ines, "
        'dagny, kester, junia, corwin (got "qqqqqq")',
    ),
    "a misspelt id in a list over two lines": Slip(
        'entrants = ["bode", "sunniva"]',
        'entrants = [\n  "bode",\n  "suniva",\n]',
        '  "suniva",',
        'space[1].entrants[2]: is not the id of a person, did you mean "sunniva"? (got "suniva")',
    ),
    "an employer that is not there": Slip(
        'employer = "marrowfield"',
        'employer = "marofield"',
        'employer = "marofield"',
        'person[1].employer: is not the id of an employer, did you mean "marrowfield"? '
        '(got "marofield")',
    ),
    "a second entry of one id": Slip(
        'id = "gantry"',
        'id = "gantry"\nkind = "tripod"\nname = "Other"\n\n[[support]]\nid = "gantry" # two',
        'id = "gantry" # two',
        'support[3].id: is already the id of another support; ids are unique (got "gantry")',
    ),
    "an id in capitals": Slip(
        'id = "radio"',
        'id = "Radio No 1"',
        'id = "Radio No 1"',
        'equipment[6].id: must be small letters, digits and hyphens, such as "wet-well" '
        '(got "Radio No 1")',
    ),
}

DATES = {
    "a date in quotes": Slip(
        "issued = 2026-11-02\nvalid",
        'issued = "2026-11-02"\nvalid',
        'issued = "2026-11-02"',
        'plan.issued: must be a date such as 2026-11-02, without quotes (got "2026-11-02")',
    ),
    "a date with a time": Slip(
        "issued = 2026-11-02\nvalid",
        "issued = 2026-11-02T07:30:00\nvalid",
        "issued = 2026-11-02T07:30:00",
        "plan.issued: must be a date such as 2026-11-02, without quotes (got 2026-11-02 07:30:00)",
    ),
    "a plan that ends before it begins": Slip(
        "valid_until = 2027-04-30",
        "valid_until = 2026-04-30",
        "valid_until = 2026-04-30",
        "plan.valid_until: must not lie before issued (2026-11-02) (got 2026-04-30)",
    ),
    "a certificate that ends before it begins": Slip(
        "expires = 2028-02-11",
        "expires = 2025-02-11",
        "expires = 2025-02-11",
        "person[1].certificate[2].expires: must not lie before issued (2026-02-11) "
        "(got 2025-02-11)",
    ),
    "work that ends before it begins": Slip(
        "finish = 2026-12-04",
        "finish = 2026-11-04",
        "finish = 2026-11-04",
        "space[1].task.finish: must not lie before start (2026-11-30) (got 2026-11-04)",
    ),
    "a period without a unit": Slip(
        'inspection_interval = "6 months"',
        'inspection_interval = "6"',
        'inspection_interval = "6"',
        "equipment[1].inspection_interval: must be a calendar period, such as "
        '"12 months" or "90 days" (got "6")',
    ),
    "a period of nothing": Slip(
        'inspection_interval = "6 months"',
        'inspection_interval = "0 months"',
        'inspection_interval = "0 months"',
        "equipment[1].inspection_interval: must be a calendar period, such as "
        '"12 months" or "90 days" (got "0 months")',
    ),
}

TYPES = {
    "a number for text": Slip(
        'name = "Bode Arkwell"',
        "name = 7",
        "name = 7",
        "person[2].name: must be text in quotes (got 7)",
    ),
    "text for a truth value": Slip(
        "retrieval = true",
        'retrieval = "yes"',
        'retrieval = "yes"',
        'device[2].retrieval: must be true or false (got "yes")',
    ),
    "text for a count": Slip(
        "redirects = 0",
        'redirects = "0"',
        'redirects = "0"',
        'device[3].redirects: must be a whole number (got "0")',
    ),
    "a part of a count": Slip(
        "redirects = 0",
        "redirects = 1.5",
        "redirects = 1.5",
        "device[3].redirects: must be a whole number (got 1.5)",
    ),
    "a negative count": Slip(
        "redirects = 0",
        "redirects = -1",
        "redirects = -1",
        "device[3].redirects: must be 0 or more (got -1)",
    ),
    "an efficiency of nan": Slip(
        "pulley_efficiency = 0.92",
        "pulley_efficiency = nan",
        "pulley_efficiency = nan",
        "device[3].pulley_efficiency: must be a finite number (got nan)",
    ),
    "an infinite efficiency": Slip(
        "pulley_efficiency = 0.92",
        "pulley_efficiency = inf",
        "pulley_efficiency = inf",
        "device[3].pulley_efficiency: must be a finite number (got inf)",
    ),
    "an efficiency above one": Slip(
        "pulley_efficiency = 0.92",
        "pulley_efficiency = 1.2",
        "pulley_efficiency = 1.2",
        "device[3].pulley_efficiency: must be 1 or less (got 1.2)",
    ),
    "text for a list": Slip(
        'attendant = ["tobiah"]',
        'attendant = "tobiah"',
        'attendant = "tobiah"',
        'space[1].attendant: must be a list in [ ] (got "tobiah")',
    ),
    "an empty list": Slip(
        'entrants = ["bode", "sunniva"]',
        "entrants = []",
        "entrants = []",
        "space[1].entrants: must have at least 1 entry (got a list)",
    ),
    "text for a table": Slip(
        '[space.opening]\nshape = "round"\ndiameter = "24 in"\ncoaming = "6 in"\n'
        'measured = "smallest-ring"\nneck = "10 in"',
        'opening = "24 in"',
        'opening = "24 in"',
        'space[1].opening: must be a table (got "24 in")',
    ),
    "empty text": Slip(
        'name = "Bode Arkwell"',
        'name = " "',
        'name = " "',
        'person[2].name: must not be empty (got "")',
    ),
    "text that is too long": Slip(
        'name = "Bode Arkwell"',
        f'name = "{"Bo" * 101}"',
        f'name = "{"Bo" * 101}"',
        f'person[2].name: must have at most 200 characters (got "{"Bo" * 29}B…")',
    ),
    "a character that turns the text round": Slip(
        'name = "Bode Arkwell"',
        'name = "Bode \\u202eArkwell"',
        'name = "Bode \\u202eArkwell"',
        'person[2].name: must not hold the invisible character U+202E (got "Bode <U+202E>Arkwell")',
    ),
    "a character that rings the bell": Slip(
        'name = "Bode Arkwell"',
        'name = "Bode \\u0007Arkwell"',
        'name = "Bode \\u0007Arkwell"',
        'person[2].name: must not hold the invisible character U+0007 (got "Bode <U+0007>Arkwell")',
    ),
    "an invisible character": Slip(
        'name = "Bode Arkwell"',
        'name = "Bode\\u200bArkwell"',
        'name = "Bode\\u200bArkwell"',
        'person[2].name: must not hold the invisible character U+200B (got "Bode<U+200B>Arkwell")',
    ),
    "an invisible character in a key": Slip(
        'sign = "PERMIT SPACE WW-2"',
        'sign = "PERMIT SPACE WW-2"\n"zz\\u202e" = 1',
        '"zz\\u202e" = 1',
        'space[1]."zz<U+202E>": is not a known key; known here: '
        + ", ".join(sorted(Space.model_fields)),
    ),
}

STEP_LINKS = {
    "a link to no step": Slip(
        'after = ["clear", "ambulance"]',
        'after = ["clear", "ambulence"]',
        'after = ["clear", "ambulence"]',
        f"space[1].rescue.primary.step[8].after: names no step of that id; steps: {STEPS} "
        '(got "ambulence")',
    ),
    "two steps that wait for each other": Slip(
        'id = "raise"\nwhat = "Haul operator winches the casualty clear of the rim"\n'
        'after = ["alarm"]',
        'id = "raise"\nwhat = "Haul operator winches the casualty clear of the rim"\n'
        'after = ["alarm", "lay-down"]',
        'after = ["alarm", "lay-down"]',
        "space[1].rescue.primary.step[4].after: must not wait for itself "
        "(circle: raise -> lay-down -> raise)",
    ),
    "a step that waits for itself": Slip(
        'id = "call"\nwhat = "Caller rings the emergency number and sends the escort to the '
        'gate"\nafter = ["alarm"]',
        'id = "call"\nwhat = "Caller rings the emergency number and sends the escort to the '
        'gate"\nafter = ["call"]',
        'after = ["call"]',
        "space[1].rescue.primary.step[3].after: must not wait for itself (circle: call -> call)",
    ),
    "a second step of one id": Slip(
        'id = "clear"',
        'id = "lay-down" # again\nwhat = "Once more"\nafter = ["raise"]\nusual = "5 s"\n\n'
        '[[space.rescue.primary.step]]\nid = "clear"',
        'id = "lay-down" # again',
        'space[1].rescue.primary.step[6].id: is used by two steps (got "lay-down")',
    ),
    "a slow day that is quicker": Slip(
        'usual = "1 min 30 s"\none_in_ten = "3 min"',
        'usual = "1 min 30 s"\none_in_ten = "80 s"',
        'one_in_ten = "80 s"',
        "space[1].rescue.primary.step[3].one_in_ten: must not be shorter than usual "
        '(1 min 30 s) (got "80 s")',
    ),
    "a computed time that is also stated": Slip(
        'computed = "detection"',
        'usual = "5 s"\ncomputed = "detection"',
        'computed = "detection"',
        "space[1].rescue.primary.step[1].computed: must be left out where usual is given, "
        'or usual here (got "detection")',
    ),
}

SLIPS = QUANTITIES | KEYS | CHOICES | REFERENCES | DATES | TYPES | STEP_LINKS


@pytest.mark.parametrize("what", SLIPS)
def test_each_slip_is_answered_with_one_line_that_says_what_to_do(edited, refused, what):
    slip = SLIPS[what]
    text = edited("pump_station", (slip.old, slip.new)).read_text(encoding="utf-8")
    line = text[: text.index(slip.where)].count("\n") + 1

    messages = refused("pump_station", (slip.old, slip.new))

    assert messages == [f"site.toml:{line}: {slip.message}"]


# The six slips of the sample, and what is said about each.
MISSPELLED = (
    (
        "valid_until = 2026-04-30",
        "plan.valid_until: must not lie before issued (2026-11-02) (got 2026-04-30)",
    ),
    (
        'sholder_breadth = "495 mm"',
        'person[2].sholder_breadth: is not a known key, did you mean "shoulder_breadth"?',
    ),
    (
        'kind = "legged-davit"',
        "support[1].kind: must be one of tripod, legged-base-davit, wall-clamp-sleeve, "
        "floor-sleeve, wall-sleeve, opening-collar, vehicle-receiver, platform-post, "
        "post-davit-arm, horizontal-lifeline or structure, did you mean "
        '"legged-base-davit"? (got "legged-davit")',
    ),
    (
        "depth = 21",
        f"space[1].shape.depth: needs text with a unit, {LENGTH} (got 21)",
    ),
    (
        'device = "winch-44"',
        "space[1].rescue.primary.rig.device: is not the id of a device, did you mean "
        '"winch-4"? (got "winch-44")',
    ),
    (
        'after = ["alarm", "lay-down"]',
        "space[1].rescue.primary.step[4].after: must not wait for itself "
        "(circle: raise -> lay-down -> raise)",
    ),
)


@pytest.mark.parametrize("line_end", ["\n", "\r\n"], ids=["LF", "CRLF"])
def test_the_misspelled_sample_is_told_all_six_slips_in_one_run(sample, refused, line_end):
    rows = sample("misspelled").read_text(encoding="utf-8").splitlines()

    messages = refused("misspelled", line_end=line_end)

    assert messages == [f"site.toml:{rows.index(row) + 1}: {words}" for row, words in MISSPELLED]


def test_no_line_of_the_misspelled_sample_that_holds_a_slip_stands_there_twice(sample):
    rows = sample("misspelled").read_text(encoding="utf-8").splitlines()

    assert [rows.count(row) for row, _ in MISSPELLED] == [1] * 6
