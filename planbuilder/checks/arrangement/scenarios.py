"""What can happen here: does every hazard have a story, and every story an answer that holds."""

from __future__ import annotations

from collections.abc import Iterator

from planbuilder.checks.scene import Scene, finding
from planbuilder.findings import Finding, Mark, Missing, Rule, Source, Stated, Weight
from planbuilder.site.method import MethodKind
from planbuilder.site.scenario import Answering, Scenario, ScenarioKind

DEVELOPED = Source(mark=Mark.READ, document="29 CFR 1910.146", clause="(d)(9)")
NONE = Rule(
    "plan/no-scenario", "What can happen here, as a list of cases", Weight.BLOCKS, DEVELOPED
)
UNTOLD = Rule("plan/hazard-without-scenario", "A case for each hazard", Weight.BLOCKS, DEVELOPED)
MEDICAL = Rule(
    "plan/no-medical-scenario",
    "A case of illness that the work did not cause",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="any emergency, whether or not from a listed hazard"),
)
ANSWERED = Rule(
    "plan/scenario-not-answered",
    "Each case answered by a way that is planned",
    Weight.BLOCKS,
    DEVELOPED,
)
SECOND = Rule(
    "plan/scenario-one-answer",
    "A second answer to each case, if the first one fails",
    Weight.WARNS,
    Source(mark=Mark.CHOICE, note="a plan for one story fails in the next"),
)
SELF_ALONE = Rule(
    "plan/self-rescue-alone",
    "Somebody else comes where the casualty cannot act",
    Weight.BLOCKS,
    Source(mark=Mark.CHOICE, note="whoever is unresponsive rescues nobody"),
)
# Whoever this happens to can do nothing, whatever else is stated.
HELPLESS = (ScenarioKind.UNRESPONSIVE, ScenarioKind.ENGULFED, ScenarioKind.MEDICAL)
UNAIDED = (MethodKind.SELF, MethodKind.ASSISTED_SELF)


def is_helpless(one: Scenario) -> bool:
    """Whether the casualty can do nothing; where nothing is stated, that is assumed."""
    return one.what in HELPLESS or not one.can_help


def check_scenarios(scene: Scene) -> Iterator[Finding]:
    """The plan lists what can happen, with illness among it."""
    listed = [one.what for one in scene.space.scenario]
    words = ", ".join(dict.fromkeys(listed))
    yield finding(
        NONE,
        Stated(holds=True, because=words) if listed else Missing(because="no case is listed"),
        settle_by="List what can happen to those inside as [[space.scenario]]: unresponsive, "
        "injured, trapped, suspended, engulfed, fire, medical; each with its hazards and its "
        "answer.",
        keys=(scene.key("scenario"),),
        space=scene.space,
    )
    if not listed:
        return
    yield finding(
        MEDICAL,
        Stated(holds=True, because="illness is among them")
        if ScenarioKind.MEDICAL in listed
        else Missing(because=f"listed: {words}"),
        settle_by='Add a scenario with what = "medical": people collapse at work for reasons of '
        "their own.",
        keys=(scene.key("scenario"),),
        space=scene.space,
    )


def check_hazards_told(scene: Scene) -> Iterator[Finding]:
    """Every hazard of the space stands in a case, and no case has a hazard that is not here."""
    if not scene.space.scenario:
        return
    here = list(dict.fromkeys(one.kind for one in scene.space.hazard))
    told = [kind for one in scene.space.scenario for kind in one.hazards]
    untold = [one for one in here if one not in told]
    foreign = [one for one in dict.fromkeys(told) if one not in here]
    wrong = [f"no case for {one}" for one in untold]
    wrong += [f"{one} is in a case, and is no hazard of this space" for one in foreign]
    words = "; ".join(wrong).replace("-", " ")
    yield finding(
        UNTOLD,
        Stated(holds=not wrong, because=words or "every hazard stands in a case"),
        settle_by="Say with hazards which hazards each scenario stands for; list every hazard "
        "of the space, and none that is not.",
        keys=(scene.key("scenario"), scene.key("hazard")),
        space=scene.space,
    )


def check_answers(scene: Scene) -> Iterator[Finding]:
    """Each case is answered by a way of this plan that this casualty does not have to help in."""
    for one in scene.space.scenario:
        key = scene.key(f"scenario.{one.what}")
        yield finding(
            ANSWERED,
            _first(scene, one),
            settle_by="Answer it by primary or fallback, by others who come where the casualty "
            "can do nothing; by self only where the casualty can act (can_help = true).",
            keys=(f"{key}.answer", scene.key("rescue")),
            space=scene.space,
            about=one.what,
        )
        yield finding(
            SECOND,
            _second(scene, one),
            settle_by="Say with then what is done if the first answer fails, and plan it.",
            keys=(f"{key}.then", scene.key("rescue")),
            space=scene.space,
            about=one.what,
        )


def _first(scene: Scene, one: Scenario) -> Stated | Missing:
    if one.answer is None:
        return Missing(because="no answer is stated")
    if one.what in HELPLESS and one.can_help:
        return Stated(holds=False, because=f"{one.what}, and yet said to be able to help")
    return _by(scene, one, one.answer)


def _second(scene: Scene, one: Scenario) -> Stated | Missing:
    if one.then is None:
        return Missing(because="no second answer is stated")
    if one.then == one.answer:
        return Stated(holds=False, because=f"{one.then} is both first and second answer")
    return _by(scene, one, one.then)


def _by(scene: Scene, one: Scenario, answer: Answering) -> Stated:
    """Whether that answer is planned, and does without a casualty who can do nothing."""
    method = MethodKind.SELF
    if answer is not Answering.SELF:
        way = next((each for each in scene.ways() if each.name == answer), None)
        if way is None:
            return Stated(holds=False, because=f"no {answer} is planned")
        method = way.method.method
    words = answer if answer is Answering.SELF else f"{answer}, {method.replace('-', ' ')}"
    if method in UNAIDED and is_helpless(one):
        return Stated(holds=False, because=f"{words}: the casualty can do nothing")
    return Stated(holds=True, because=words)


def check_self_alone(scene: Scene) -> Iterator[Finding]:
    """A plan in which nobody else comes holds at height only, where the rule set allows it."""
    if any(way.method.method not in UNAIDED for way in scene.ways()):
        return
    allowed, cases = scene.limits.permission("rescue.self_rescue_alternative"), scene.space.scenario
    helpless = list(dict.fromkeys(one.what for one in cases if is_helpless(one)))
    outcome: Stated | Missing
    if scene.space.is_confined:
        outcome = Stated(holds=False, because="nobody else comes into or to a confined space")
    elif allowed is None or not allowed.allowed:
        said = allowed.text if allowed else "the rule set does not offer it"
        outcome = Stated(holds=False, because=f"nobody else comes; {said}")
    elif helpless:
        outcome = Stated(
            holds=False, because=f"nobody else comes; cannot act: {', '.join(helpless)}"
        )
    elif not cases:
        outcome = Missing(because="nobody else comes, and no case is listed")
    else:
        outcome = Stated(holds=True, because=f"every casualty can act; {allowed.text}")
    yield finding(
        SELF_ALONE,
        outcome,
        settle_by="Plan a rescue by others, from outside or by going in.",
        keys=(scene.key("rescue.primary.method"), scene.key("scenario")),
        space=scene.space,
    )
