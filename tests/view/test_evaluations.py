"""The evaluation of a rescue service on its page."""

from broken_service import RECORD, answers, leans
from broken_sites import plan_with

from planbuilder.site.evaluation import Practised
from planbuilder.site.people import Service
from planbuilder.view.evaluations import evaluation_table, practised_text
from planbuilder.view.pages import view_of


def service(**facts):
    return Service.model_validate({**RECORD, **facts})


def test_each_question_is_printed_with_its_answer_or_its_lack():
    given = answers(
        willing=None, medical={"answer": "no", "evidence": None, "remedy_by": RECORD["agreed_on"]}
    )
    rows = evaluation_table(service(answer=given)).rows

    assert len(rows) == 20
    assert rows[0][1:] == ("yes", "Visit, minutes no. 4", "Osric Vane, 12 Oct 2026")
    assert rows[4][0] == "Do you agree to carry out the rescue at this site?"
    assert rows[4][1:] == ("NO ANSWER", "-", "-")
    assert rows[8][1:3] == ("NO, to be put right by 12 Oct 2026", "none")


def test_a_service_that_was_asked_nothing_has_no_table():
    assert evaluation_table(service(answer=[])).rows == ()


def test_the_place_of_the_practice_is_said():
    assert practised_text(None) == "NO RECORD"
    assert practised_text(Practised(inside="open")) == (
        "not stated, open, not stated, not stated, not stated"
    )
    assert practised_text(service().practised) == (
        "12 Oct 2026, obstructed, restricted opening, elevated, vertical way in"
    )


def test_the_page_of_a_service_holds_the_record():
    one = view_of(plan_with(leans(channel="channel 7"))).services[0]
    said = {row.label: row.text for row in one.agreed}

    assert said["Phone"] == "555-0160, channel 7"
    assert said["Number tried"] == "16 Nov 2026"
    assert said["In writing"] == "yes"
    assert len(one.evaluation.rows) == 20
