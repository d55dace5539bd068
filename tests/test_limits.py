"""Limits: the strictest layer wins and is named; every entry says where it comes from."""

from __future__ import annotations

import ast
import tomllib
from collections.abc import Iterator
from dataclasses import replace
from importlib import resources
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import planbuilder
from planbuilder.checks import RULES
from planbuilder.checks.timing.hazards import hazard_limit
from planbuilder.errors import PlanbuilderError
from planbuilder.findings import Bind, Mark, Quantity, Relation, Source, Unit
from planbuilder.limits import Limits, limits_for
from planbuilder.profiles.profile import TOOL_LAYER, load_profile, overlay_ids, profile_ids
from planbuilder.profiles.rule_file import rule_keys
from planbuilder.profiles.statements import Limit
from planbuilder.site.hazard import Hazard, HazardKind
from planbuilder.tables import documents, table

PACKAGE = Path(planbuilder.__file__).parent
PROFILES = sorted(
    (
        one
        for where in ("profiles", "profiles.overlays")
        for one in resources.files(f"planbuilder.{where}").iterdir()
        if one.name.endswith(".toml")
    ),
    key=lambda one: one.name,
)
SMALLER_IS_STRICTER = [Relation.AT_MOST, Relation.LESS_THAN]
LARGER_IS_STRICTER = [Relation.AT_LEAST, Relation.MORE_THAN]


def limit(value: float, relation: Relation, layer: str) -> Limit:
    """A limit on a length."""
    source = Source(mark=Mark.CHOICE)
    quantity = Quantity(symbol="limit", label="demo", value=value, unit=Unit.M, source=source)
    return Limit(key="demo.key", layer=layer, relation=relation, quantity=quantity)


def layers(ours: Limit | None, theirs: Limit | None) -> Limits:
    """The tool's layer with *ours* and a profile with *theirs*."""
    shipped = limits_for("us-osha-gi")
    return Limits(
        profile=replace(shipped.profile, limits={"demo.key": theirs} if theirs else {}),
        tool=replace(shipped.tool, limits={"demo.key": ours} if ours else {}),
    )


@pytest.mark.parametrize(
    ("relation", "tool", "profile", "winner"),
    [
        *((one, 4.0, 5.0, "tool") for one in SMALLER_IS_STRICTER),
        *((one, 6.0, 5.0, "profile") for one in SMALLER_IS_STRICTER),
        *((one, 6.0, 5.0, "tool") for one in LARGER_IS_STRICTER),
        *((one, 4.0, 5.0, "profile") for one in LARGER_IS_STRICTER),
        *((one, 5.0, 5.0, "profile") for one in Relation),
    ],
)
def test_the_stricter_layer_wins_and_a_tie_goes_to_the_profile(relation, tool, profile, winner):
    found = layers(limit(tool, relation, "tool"), limit(profile, relation, "profile")).of(
        "demo.key"
    )

    assert found.layer == winner
    assert found.quantity.value == (tool if winner == "tool" else profile)


@given(
    tool=st.floats(-1e6, 1e6),
    profile=st.floats(-1e6, 1e6),
    value=st.floats(-1e6, 1e6),
    relation=st.sampled_from(Relation),
)
def test_whatever_meets_the_effective_limit_meets_both_layers(tool, profile, value, relation):
    both = layers(limit(tool, relation, "tool"), limit(profile, relation, "profile"))
    effective = both.of("demo.key").quantity.value

    meets_both = relation.holds(value, tool) and relation.holds(value, profile)

    assert relation.holds(value, effective) is meets_both


@pytest.mark.parametrize("layer", ["tool", "profile"])
def test_a_limit_of_one_layer_only_is_the_limit(layer):
    one = limit(5.0, Relation.AT_MOST, layer)

    found = layers(one if layer == "tool" else None, one if layer == "profile" else None)

    assert found.of("demo.key") is one


def test_a_limit_of_no_layer_is_our_mistake():
    with pytest.raises(KeyError):
        layers(None, None).of("demo.key")


def test_an_unknown_profile_is_answered_with_the_ones_that_ship():
    with pytest.raises(PlanbuilderError) as caught:
        limits_for("us-osha-ig")

    assert str(caught.value) == (
        'no profile "us-osha-ig"; profiles: ca-federal, uk-gb, us-osha-constr, us-osha-gi'
    )


def test_the_layer_of_the_tool_is_no_profile_to_choose():
    assert "tool" not in profile_ids()
    with pytest.raises(PlanbuilderError):
        limits_for("tool")


# Values of the rule texts in the units of the rule, turned by hand into the units inside.
@pytest.mark.parametrize(
    ("key", "relation", "value", "unit"),
    [
        ("atmosphere.o2_min", Relation.AT_LEAST, 0.195, Unit.FRACTION),
        ("atmosphere.h2s_max", Relation.AT_MOST, 10e-6, Unit.FRACTION),
        ("retrieval.mech_device_depth", Relation.AT_MOST, 5 * 0.3048, Unit.M),
        ("rescue.mech_only_minutes", Relation.AT_MOST, 15 * 60, Unit.S),
        ("training.practice_months", Relation.AT_MOST, 12, Unit.MONTHS),
        ("fall.free_fall", Relation.AT_MOST, 6 * 0.3048, Unit.M),
        ("fall.arrest_force", Relation.AT_MOST, 1800 * 0.45359237 * 9.80665, Unit.N),
        ("fall.user_mass", Relation.LESS_THAN, 310 * 0.45359237, Unit.KG),
        ("anchor.arrest", Relation.AT_LEAST, 5000 * 0.45359237 * 9.80665, Unit.N),
        ("people.first_aid_cert_min", Relation.AT_LEAST, 1, Unit.COUNT),
        ("anchor.arrest_engineered_sf", Relation.AT_LEAST, 2, Unit.RATIO),
    ],
)
def test_a_rule_in_its_own_unit_becomes_the_limit_inside(key, relation, value, unit):
    found = limits_for("us-osha-gi").of(key)

    assert found.relation is relation
    assert found.quantity.value == pytest.approx(value, rel=1e-12)
    assert found.quantity.unit is unit


def entries() -> Iterator[tuple[str, str, dict[str, object]]]:
    """Every limit and duty of every profile file, as written."""
    for file in PROFILES:
        for group, rows in tomllib.loads(file.read_text(encoding="utf-8")).items():
            if group not in ("profile", "scope", "text", "document", "clauses"):
                yield from ((file.name, f"{group}.{name}", row) for name, row in rows.items())


@pytest.mark.parametrize(
    ("file", "key", "entry"), list(entries()), ids=lambda one: one if isinstance(one, str) else ""
)
def test_every_entry_of_a_profile_says_what_binds_and_how_well_it_is_known(file, key, entry):
    assert key in rule_keys()
    assert sum(one in entry for one in ("value", "text")) == (entry["bind"] != "none")
    assert entry["bind"] in {*Bind, "none"}
    assert entry["mark"] in set(Mark)
    if "value" in entry:
        assert entry["op"] in set(Relation)
        assert entry["unit"]
    if entry["bind"] == "tool":
        assert "document" not in entry
    else:
        own = {one.id for one in load_profile(file.removesuffix(".toml")).documents}
        assert entry["document"] in {*documents(), *own}
        assert entry["clause"]


@pytest.mark.parametrize("profile_id", [*profile_ids(), *overlay_ids(), TOOL_LAYER])
def test_every_entry_of_a_profile_file_is_loaded(profile_id):
    profile = load_profile(profile_id)
    written = {key for file, key, _ in entries() if file == f"{profile_id}.toml"}

    assert written == {*profile.says, *profile.silent}


@pytest.mark.parametrize("profile_id", [*profile_ids(), *overlay_ids(), TOOL_LAYER])
def test_a_profile_counts_what_was_written_from_memory(profile_id):
    marks = [entry["mark"] for file, _, entry in entries() if file == f"{profile_id}.toml"]

    assert load_profile(profile_id).recalled == marks.count("recalled")


def nodes() -> Iterator[ast.AST]:
    """Every node of the code of the package."""
    for path in PACKAGE.rglob("*.py"):
        yield from ast.walk(ast.parse(path.read_text(encoding="utf-8")))


def named_in_code() -> set[str]:
    """The document ids that the code gives to a Source."""
    return {
        one.value.value
        for call in nodes()
        if isinstance(call, ast.Call) and ast.unparse(call.func) == "Source"
        for one in call.keywords
        if one.arg == "document"
        and isinstance(one.value, ast.Constant)
        and isinstance(one.value.value, str)
    }


def read_tables() -> list[dict[str, dict[str, object]]]:
    """The rows of every profile and of the tables that name documents by row, as written."""
    texts = [
        (PACKAGE / "tables" / f"{name}.toml").read_text(encoding="utf-8")
        for name in ("defaults", "travel_speeds", "approach_distances")
    ]
    openings = {one["what"]: one for one in table("least_openings")["opening"]}
    return [*map(tomllib.loads, texts), *({key: row} for _, key, row in entries()), openings]


def named_in_data() -> set[str]:
    """The document ids in profiles and tables."""
    return {
        str(row["document"]) for rows in read_tables() for row in rows.values() if "document" in row
    }


def test_every_document_that_is_cited_is_in_the_list_of_documents():
    hazards = {hazard_limit(Hazard(kind=one, control="-")).source.document for one in HazardKind}
    rules = {one.source.document for one in RULES}

    own = {one.id for name in overlay_ids() for one in load_profile(name).documents}
    named = named_in_code() | named_in_data() | hazards | rules

    assert named - {""} - set(documents()) - own == set()


def test_every_document_in_the_list_is_cited_somewhere():
    """As the source of a value, or by its name in the note beside one."""
    notes = {str(one.value) for one in nodes() if isinstance(one, ast.Constant)}
    notes |= {str(text) for rows in read_tables() for row in rows.values() for text in row.values()}

    in_notes = {name for name in documents() for text in notes if name in text}

    assert set(documents()) - named_in_code() - in_notes == set()


def test_every_document_says_its_edition_and_how_it_was_seen():
    ways = {"official text", "copy of the official text", "secondary copy", "abstract", "recalled"}

    assert {one.seen for one in documents().values()} <= ways
    assert [one.id for one in documents().values() if not (one.title and one.edition)] == []


def test_a_document_known_from_memory_only_marks_what_is_cited_from_it_as_recalled():
    remembered = {one.id for one in documents().values() if one.seen == "recalled"}
    wrongly_read = [
        (key, entry["document"])
        for _, key, entry in entries()
        if entry.get("document") in remembered and entry["mark"] == "read"
    ]

    assert wrongly_read == []


@pytest.mark.parametrize("profile_id", profile_ids())
def test_every_limit_that_a_check_asks_for_by_name_is_in_a_layer(profile_id):
    shipped = limits_for(profile_id)
    asked = {
        one.args[0].value
        for one in nodes()
        if isinstance(one, ast.Call)
        and ast.unparse(one.func).endswith("limits.of")
        and isinstance(one.args[0], ast.Constant)
    }

    assert asked
    assert asked - {*shipped.profile.limits, *shipped.tool.limits} == set()
