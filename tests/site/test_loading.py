"""A file that cannot be a site file, one that is, and what stands in between."""

from __future__ import annotations

import contextlib
import re
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from planbuilder.errors import FileProblemsError, PlanbuilderError, Problem
from planbuilder.plan import build_plan
from planbuilder.site.load import LARGEST_FILE_BYTES, load_site

ON = date(2026, 11, 25)
PUMP_STATION = Path(__file__).parents[2] / "sample_sites" / "pump_station.toml"


def refusal_of(path: Path) -> str:
    """The message about *path*, without its folder."""
    with pytest.raises(PlanbuilderError) as caught:
        load_site(path)
    return str(caught.value).replace(str(path), path.name)


def test_a_file_that_is_not_there_is_named(tmp_path):
    path = tmp_path / "absent.toml"

    assert refusal_of(path) == "absent.toml: cannot be read (No such file or directory)"


def test_a_byte_order_mark_is_no_part_of_the_file(tmp_path):
    path = tmp_path / "site.toml"
    path.write_bytes(b"\xef\xbb\xbf" + PUMP_STATION.read_bytes())

    assert load_site(path).site == load_site(PUMP_STATION).site
    assert load_site(path).text == load_site(PUMP_STATION).text


def test_a_folder_is_no_site_file(tmp_path):
    path = tmp_path / "folder.toml"
    path.mkdir()

    assert refusal_of(path) == "folder.toml: cannot be read (Is a directory)"


def test_bytes_that_are_not_utf_8_are_told_where(tmp_path):
    path = tmp_path / "latin.toml"
    path.write_bytes('name = "Caf\u00e9"'.encode("latin-1"))

    assert refusal_of(path) == "latin.toml: is not UTF-8 text (byte 11)"


def test_a_file_that_is_too_large_is_not_read(tmp_path):
    path = tmp_path / "large.toml"
    path.write_bytes(b"#" * (LARGEST_FILE_BYTES + 1))

    assert refusal_of(path) == "large.toml: is larger than 2000 kB; split the site"


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("a = 1\nb = \n", 2, "Invalid value"),
        ('a = 1\n\n[site\nname = "x"\n', 3, "Expected ']' at the end of a table declaration"),
        ("a = 1\na = 2\n", 2, "Cannot overwrite a value"),
        ('a = 1\nb = """\nnever closed\n', 4, "Unterminated string"),
        ("a = [1,\n2", 2, "Unclosed array"),
        ("issued = 2026-02-30\n", 1, "Invalid date or datetime"),
        (
            "a = 1\ndepth = 3.4 m\n",
            2,
            "Expected newline or end of document after a statement; text, and a number with its "
            "unit, stand in quotes",
        ),
        (
            "phone = 01632960131\n",
            1,
            "Expected newline or end of document after a statement; text, and a number with its "
            "unit, stand in quotes",
        ),
        ('name = "x\n', 1, "Illegal character '\\n'; a quote is not closed"),
        ('name = "x" y\n', 1, "Expected newline or end of document after a statement"),
    ],
)
def test_text_that_is_not_toml_is_told_the_line(tmp_path, text, line, words):
    path = tmp_path / "broken.toml"
    path.write_text(text, encoding="utf-8")

    assert refusal_of(path) == f"broken.toml:{line}: (file): is not TOML: {words}"


@pytest.mark.parametrize("digits", ["1" * 5000, "0x" + "f" * 5000], ids=["decimal", "hexadecimal"])
def test_a_number_that_fills_a_page_is_refused_like_any_other(edited, digits):
    path = edited("pump_station", ("redirects = 0", f"redirects = {digits}"))

    with pytest.raises(PlanbuilderError):
        load_site(path)


def test_lists_in_lists_without_end_are_refused(tmp_path):
    path = tmp_path / "deep.toml"
    path.write_text("a = " + "[" * 5000 + "]" * 5000, encoding="utf-8")

    assert refusal_of(path) == "deep.toml:1: (file): is nested too deeply"


def test_an_empty_file_is_told_what_every_site_file_has(tmp_path):
    path = tmp_path / "empty.toml"
    path.write_text("", encoding="utf-8")

    assert refusal_of(path).splitlines() == [
        "empty.toml:1: person: is missing",
        "empty.toml:1: plan: is missing",
        "empty.toml:1: site: is missing",
        "empty.toml:1: space: is missing",
    ]


def test_problems_are_kept_for_callers_in_the_order_of_the_file(edited):
    path = edited(
        "pump_station",
        ("retrieval = true", 'retrieval = "yes"'),
        ("issued = 2026-11-02\n", "issued = 2026\n"),
    )

    with pytest.raises(FileProblemsError) as caught:
        load_site(path)

    lines = [one.line for one in caught.value.problems]
    assert [one.key for one in caught.value.problems] == ["plan.issued", "device[2].retrieval"]
    assert lines == sorted(lines)
    assert all(isinstance(one, Problem) for one in caught.value.problems)


def test_an_unknown_rule_set_is_told_on_the_line_that_names_it(edited, refused):
    swap = ('profile = "us-osha-gi"', 'profile = "us-osha-ig"')
    rows = edited("pump_station", swap).read_text(encoding="utf-8").splitlines()

    assert refused("pump_station", swap) == [
        f"site.toml:{rows.index(swap[1]) + 1}: plan.profile: must be one of "
        'ca-federal, uk-gb, us-osha-constr, us-osha-gi (got "us-osha-ig")'
    ]


OVERRIDE = (
    '# ---- drills ----\n[[override]]\nwhat = "{}"\n{}reason = "r"\nby = "b"\non = 2026-11-01\n'
)


@pytest.mark.parametrize(
    ("what", "value", "words"),
    [
        (
            "haul/link-too-weak",
            "",
            'a blocking rule cannot be overridden, only put right (got "haul/link-too-weak")',
        ),
        ("plan/no-such", "", 'what must name a default or a rule (got "plan/no-such")'),
        ("casualty-mass", "", "needs value, the new value of the default"),
        (
            "casualty-mass",
            "90",
            'must be a number and a unit, such as "92 kg" or "203 lb" (got "90")',
        ),
        (
            "casualty-mass",
            "2 m",
            '"m" is not a unit of the wanted kind; write it as "92 kg" or "203 lb" (got "2 m")',
        ),
        ("casualty-mass", "-90 kg", 'must lie between 40 and 300 kg (got "-90 kg")'),
        ("dynamic-factor", "one", 'must be a plain number (got "one")'),
        ("dynamic-factor", "nan", 'must be a finite number (got "nan")'),
    ],
)
def test_an_override_that_cannot_stand_is_told_why(edited, refused, what, value, words):
    override = OVERRIDE.format(what, f'value = "{value}"\n' if value else "")
    swap = ("# ---- drills ", f"{override}\n# ---- drills ")
    rows = edited("pump_station", swap).read_text(encoding="utf-8").splitlines()

    assert refused("pump_station", swap) == [
        f"site.toml:{rows.index('[[override]]') + 1}: override[1]: {words}"
    ]


# What each quantity of this kind can be in the physical world, whoever signs for it.
IMPOSSIBLE = [
    ("pulley-efficiency", "1.5"),
    ("pulley-efficiency", "0"),
    ("roller-efficiency", "1.5"),
    ("dynamic-factor", "0.5"),
    ("hand-haul-speed", "0 m/s"),
    ("force-per-person-short", "0 N"),
    ("casualty-mass", "1 kg"),
    ("stature", "0 m"),
    ("task-spread", "1000"),
    ("drill-age", "999999"),
    ("dead-wraps", "2.5"),
]


@pytest.mark.parametrize(("what", "value"), IMPOSSIBLE)
def test_an_override_beyond_what_can_be_is_refused(refused, what, value):
    override = OVERRIDE.format(what, f'value = "{value}"\n')

    messages = refused("pump_station", ("# ---- drills ", f"{override}\n# ---- drills "))

    assert len(messages) == 1
    assert messages[0].endswith(f'(got "{value}")')


@pytest.mark.parametrize("line_end", ["\n", "\r\n"], ids=["LF", "CRLF"])
def test_a_site_file_is_kept_letter_by_letter(edited, line_end):
    path = edited("pump_station", line_end=line_end)

    file = load_site(path)

    assert file.text.encode() == path.read_bytes()
    assert file.path == path
    depth = file.site.space[0].shape.depth
    assert depth is not None
    assert depth.written == "21 ft"
    assert depth.m == pytest.approx(21 * 0.3048)


def test_a_site_does_not_change_once_it_is_read(sample):
    site = load_site(sample("pump_station")).site

    with pytest.raises(ValidationError):
        site.plan.number = "other"  # type: ignore[misc]


def test_words_that_look_like_a_template_or_a_format_stay_words(loaded, refused):
    file = loaded("pump_station", ('name = "Bode Arkwell"', 'name = "{0} {{x}} %s {got}"'))

    assert file.site.person[1].name == "{0} {{x}} %s {got}"
    assert refused("pump_station", ('escort = "corwin"', 'escort = "ju-{0}"'))[0].endswith(
        'must be small letters, digits and hyphens, such as "wet-well" (got "ju-{0}")'
    )


def test_a_period_of_ten_thousand_years_is_refused_and_does_not_stop_the_program(refused):
    swap = ('inspection_interval = "12 months"', 'inspection_interval = "9999 years"')

    messages = refused("pump_station", swap)

    assert len(messages) == 1
    assert "support[1].inspection_interval" in messages[0]


HOSTILE = (
    "7",
    "-1",
    "1e308",
    "nan",
    "true",
    '""',
    '"x"',
    '"1 m"',
    '"1 s"',
    '"-1 ft"',
    f'"{"long " * 1000}"',
    "[]",
    "[[]]",
    "{}",
    '{ id = "x" }',
    "0001-01-01",
    "9999-12-31",
    "2026-11-02T07:30:00Z",
    "07:30:00",
)
ROWS = [
    number
    for number, row in enumerate(PUMP_STATION.read_text(encoding="utf-8").splitlines())
    if re.match(r"\w+ = ", row)
]


@settings(max_examples=120, deadline=None)
@given(row=st.sampled_from(ROWS), value=st.sampled_from((*HOSTILE, None)))
def test_whatever_stands_behind_a_key_the_answer_is_a_plan_or_a_message(
    tmp_path_factory, row, value
):
    """Anything else would be a traceback. None takes the line away."""
    rows = PUMP_STATION.read_text(encoding="utf-8").splitlines()
    rows[row] = "" if value is None else f"{rows[row].partition(' = ')[0]} = {value}"
    path = tmp_path_factory.getbasetemp() / "fuzzed.toml"
    path.write_text("\n".join(rows), encoding="utf-8")

    with contextlib.suppress(PlanbuilderError):
        build_plan(load_site(path), on=ON)
