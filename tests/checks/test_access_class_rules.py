"""The printed class of access by bore: it fires, rests, and decides nothing."""

from broken_crawlways import crawlway
from broken_sites import Break, found, plan_with, rules_of, worst

from planbuilder.checks.room import access_class
from planbuilder.findings import Verdict

ACCESS = "clearance/bore-below-access-class"
SAMPLE = "storage_tank"
NARROW, WIDE = crawlway(diameter="790 mm"), crawlway(diameter="800 mm")
# rule: what makes it fire, what lets it rest; it is never unknown.
CASES: list[tuple[str, Break, Break, None]] = [(ACCESS, NARROW, WIDE, None)]


def test_every_rule_is_here() -> None:
    assert {ACCESS} == rules_of(access_class)


def test_a_narrow_pipe_is_noted_and_a_wide_one_rests() -> None:
    narrow, wide = (plan_with(one, sample=SAMPLE) for one in (NARROW, WIDE))

    assert worst(found(narrow, ACCESS)) is Verdict.FAILS
    assert worst(found(wide, ACCESS)) is Verdict.MEETS
    assert narrow.status == "READY FOR REVIEW"
    assert "EN 476, recalled" in str(found(narrow, ACCESS)[0].outcome)


def test_nothing_is_said_where_no_bore_is_stated() -> None:
    flat = plan_with(crawlway(width="1 m", height="1 m"), sample=SAMPLE)

    assert found(flat, ACCESS) == []
