"""What scripts rely on: the shape of the JSON, its numbers, and that it stays the same."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from datetime import date

import pytest
from jsonschema import Draft202012Validator

from planbuilder.checks import RULES
from planbuilder.findings import Bind, Mark, Relation, Unit, Verdict, Weight
from planbuilder.plan import build_plan
from planbuilder.results import SCHEMA, results, results_json, schema_text
from planbuilder.site.load import load_site
from planbuilder.tables import documents

SAMPLES = ["pump_station", "storage_tank", "call_and_wait", "half_measured"]
TOP_KEYS = {
    "schema",
    "tool",
    "plan",
    "profile",
    "on",
    "content_hash",
    "status",
    "counts",
    "findings",
}
FINDING_KEYS = {
    "id",
    "space",
    "title",
    "verdict",
    "weight",
    "result",
    "relation",
    "limit",
    "formula",
    "inputs",
    "settle_by",
    "keys",
}


@pytest.fixture(params=SAMPLES)
def data(request, sample_plan):
    """The JSON of a sample, read back as a script reads it: no NaN, no infinity."""
    return json.loads(results_json(sample_plan(request.param)), parse_constant=pytest.fail)


def numbers(value: object) -> Iterator[float]:
    """Every number anywhere in parsed JSON."""
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, list):
        for one in value:
            yield from numbers(one)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield value


def test_the_object_has_every_key_that_scripts_rely_on(data):
    assert set(data) >= TOP_KEYS
    assert data["schema"] == {"name": "planbuilder-results", "version": 2}
    assert data["tool"]["name"] == "planbuilder"
    assert data["on"] == "2026-11-25"
    assert re.fullmatch(r"[0-9a-f]{64}", data["content_hash"])


def test_the_results_keep_to_the_published_schema(data):
    schema = json.loads(schema_text())
    Draft202012Validator.check_schema(schema)

    errors = [one.message for one in Draft202012Validator(schema).iter_errors(data)]

    assert errors == []


def test_the_schema_lists_every_word_that_a_finding_may_hold():
    parts = json.loads(schema_text())["$defs"]
    finding, source = parts["finding"]["properties"], parts["source"]["properties"]

    assert finding["verdict"]["enum"] == [one.value for one in Verdict]
    assert finding["weight"]["enum"] == [one.value for one in Weight]
    assert finding["relation"]["anyOf"][0]["enum"] == [one.value for one in Relation]
    assert source["mark"]["enum"] == [one.value for one in Mark]
    assert source["bind"]["anyOf"][0]["enum"] == [one.value for one in Bind]
    assert parts["unit"]["enum"] == [one.value for one in Unit]
    assert json.loads(schema_text())["properties"]["schema"]["properties"]["version"] == {
        "const": SCHEMA["version"]
    }


def test_a_result_that_lost_a_part_does_not_keep_to_the_schema(data):
    del data["findings"][0]["settle_by"]
    schema = Draft202012Validator(json.loads(schema_text()))

    assert not schema.is_valid(data)


def test_each_finding_has_every_key_that_scripts_rely_on(data):
    for one in data["findings"]:
        assert set(one) >= FINDING_KEYS
        assert one["verdict"] in set(Verdict)
        assert one["weight"] in set(Weight)
        assert one["id"] in {rule.id for rule in RULES}
        assert one["settle_by"]
        assert one["keys"]


def test_a_comparison_is_given_whole_or_not_at_all(data):
    for one in data["findings"]:
        parts = [one["result"], one["relation"], one["limit"], one["formula"]]
        if one["result"] is None:
            assert parts == [None] * 4
            assert one["because"]
            assert one["inputs"] == []
            continue
        assert one["relation"] in set(Relation)
        assert set(one["result"]) == {"value", "unit"}
        assert set(one["limit"]) == {"value", "unit", "source"}
        assert one["result"]["unit"] == one["limit"]["unit"]
        assert one["result"]["unit"] in set(Unit)
        assert one["formula"]
        assert one["inputs"]


def test_the_verdict_of_each_comparison_follows_from_its_printed_numbers(data):
    """An independent reading of the relation, on the numbers that a script gets."""
    signs = {
        "<=": lambda a, b: a <= b * (1 + 1e-9) + 1e-9,
        "<": lambda a, b: a < b,
        ">=": lambda a, b: a >= b - abs(b) * 1e-9 - 1e-9,
        ">": lambda a, b: a > b,
    }
    compared = [one for one in data["findings"] if one["result"]]

    assert compared
    for one in compared:
        judged = one["ordinary"] or one["result"]  # on an ordinary day only: marginal
        holds = signs[one["relation"]](judged["value"], one["limit"]["value"])
        assert holds is (one["verdict"] in ("meets", "marginal")), one["id"]


def test_every_source_has_a_mark_and_every_document_is_in_the_list(data):
    sources = [
        source
        for one in data["findings"]
        for source in (
            one["source"],
            *(each["source"] for each in one["inputs"]),
            *([one["limit"]["source"]] if one["limit"] else []),
        )
    ]

    assert {one["mark"] for one in sources} <= set(Mark)
    assert {one["document"] for one in sources} - {""} <= set(documents())


def test_counts_and_status_follow_from_the_findings(data):
    verdicts = [one["verdict"] for one in data["findings"]]
    blocking = [
        one
        for one in data["findings"]
        if one["weight"] == "blocks" and one["verdict"] in ("fails", "unknown")
    ]

    assert data["counts"] == {one: verdicts.count(one) for one in Verdict} | {
        "blocking": len(blocking)
    }
    assert [one["id"] for one in data["findings"] if one["blocks"]] == [
        one["id"] for one in blocking
    ]
    assert data["status"] == ("NOT READY" if blocking else "READY FOR REVIEW")


def test_blocking_findings_come_first_and_met_ones_last(data):
    rank = [
        0 if one["blocks"] else 2 if one["verdict"] == "meets" else 1 for one in data["findings"]
    ]

    assert rank == sorted(rank)


def test_every_number_is_finite(data):
    assert all(math.isfinite(one) for one in numbers(data))


@pytest.mark.parametrize(
    ("name", "status"),
    [
        ("pump_station", "READY FOR REVIEW"),
        ("storage_tank", "READY FOR REVIEW"),
        ("storage_tank_short_air", "NOT READY"),
        ("call_and_wait", "NOT READY"),
        ("half_measured", "NOT READY"),
    ],
)
def test_each_sample_has_the_status_it_was_written_for(sample_plan, name, status):
    assert results(sample_plan(name))["status"] == status


def test_the_half_measured_sample_is_mostly_unknown_and_says_what_to_measure(sample_plan):
    unknown = [
        one
        for one in results(sample_plan("half_measured"))["findings"]
        if one["verdict"] == "unknown"
    ]

    keys = {key for one in unknown for key in one["keys"]}
    assert {
        "space.vault.shape.depth",
        "space.vault.opening.coaming",
        "space.vault.rescue.primary.rig.hook_height",
        "support.tripod-1.rated_load",
    } <= keys


def test_the_same_file_gives_the_same_json(sample, on):
    path = sample("pump_station")

    first = results_json(build_plan(load_site(path), on=on))

    assert results_json(build_plan(load_site(path), on=on)) == first
    assert first.endswith("}\n")


def test_the_hash_changes_with_a_letter_of_the_file_and_with_the_day(planned, sample, on):
    plain = planned("pump_station")
    changed = planned("pump_station", ("# Larkfold", "# larkfold"))
    later = build_plan(load_site(sample("pump_station")), on=date(2026, 11, 26))

    hashes = {one.content_hash for one in (plain, changed, later)}

    assert len(hashes) == 3
    assert plain.content_hash == build_plan(load_site(sample("pump_station")), on=on).content_hash


def test_no_two_different_plans_share_what_is_hashed(sample_plan):
    """The parts are joined with a character that no TOML text can hold."""
    assert all("\0" not in sample_plan(name).text for name in SAMPLES)
