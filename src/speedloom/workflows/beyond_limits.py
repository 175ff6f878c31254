"""Does a programme keep the limits that hold for its athletes now? Some may be newer than it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from speedloom.checking.finding import Finding, merge
from speedloom.checking.register import CHECKS
from speedloom.checking.scene import Scene
from speedloom.training.athlete import Restriction
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import Rulebook

RULE = "restriction_kept"


def beyond_limits(
    programme: Programme,
    held: Mapping[str, Sequence[Restriction]],
    *,
    since: date,
    rulebook: Rulebook,
    catalogue: Catalogue,
) -> tuple[Finding, ...]:
    """Find what is above the limits in force, from a day on; nothing where the programme has no brief.

    Args:
        programme: the document, made before or after the limits were set.
        held: the restrictions of each athlete as they stand now; who is not named has none.
        since: the first day that is looked at.
        rulebook: the rules with the programme's changes.
        catalogue: the exercises.
    """
    content = programme.brief.content
    if content is None or not any(held.values()):
        return ()
    people = tuple(
        one.model_copy(update={"restrictions": tuple(held.get(one.ref, ()))}) for one in content.athletes
    )
    now = content.model_copy(update={"athletes": people})
    days = {
        session.ref: session.date
        for own in programme.programmes
        for week in own.weeks
        for session in week.sessions
    }
    found = CHECKS[RULE](Scene(programme, now, rulebook, catalogue))
    return merge(one for one in found if days.get(one.session or "", date.min) >= since).items
