"""Who has sprint work ahead in a programme though hard work is not cleared now (rule H1)."""

from __future__ import annotations

from datetime import date

from speedloom.checking.finding import Finding, merge
from speedloom.checking.register import CHECKS
from speedloom.checking.scene import Scene
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import AthleteProgramme, Programme
from speedloom.training.rule import Rulebook

RULE = "screening"


def beyond_clearance(
    programme: Programme, *, since: date, rulebook: Rulebook, catalogue: Catalogue
) -> tuple[Finding, ...]:
    """Find sprint work from a day on for athletes who are not cleared; one finding an athlete.

    Args:
        programme: the document, its brief with what was asked last.
        since: the first day that is looked at.
        rulebook: the rules with the programme's changes.
        catalogue: the exercises.
    """
    content = programme.brief.content
    asked = {one.ref: one.screening for one in content.athletes if one.screening} if content else {}
    barred = {ref for ref, answers in asked.items() if answers.bars}
    if content is None or not barred:
        return ()
    theirs = tuple(_ahead(own, since) for own in programme.programmes if own.athlete in barred)
    ahead = programme.model_copy(update={"programmes": theirs})
    found = CHECKS[RULE](Scene(ahead, content, rulebook, catalogue))
    # Answers that are only too old bar nobody.
    return merge(one for one in found if isinstance(one.value, str)).items


def _ahead(own: AthleteProgramme, since: date) -> AthleteProgramme:
    weeks = tuple(
        week.model_copy(update={"sessions": tuple(one for one in week.sessions if one.date >= since)})
        for week in own.weeks
    )
    return own.model_copy(update={"weeks": weeks})
