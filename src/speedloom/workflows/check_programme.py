"""Check a programme, the tool's own or a coach's, against the rulebook."""

from __future__ import annotations

from speedloom.checking.by_athlete import check_by_athlete
from speedloom.checking.check import check
from speedloom.checking.finding import Findings
from speedloom.training.brief import ResolvedBrief
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import Rulebook


def check_programme(
    programme: Programme, *, brief: ResolvedBrief | None, rulebook: Rulebook, catalogue: Catalogue
) -> Findings:
    """Find every rule that a programme does not keep.

    Args:
        programme: the document.
        brief: the brief to hold it against; None takes the one inside the document, if there is one.
        rulebook: the rules and their numbers; the brief's own changes are added where it has none yet.
        catalogue: the exercises; entries embedded in the brief win.
    """
    used = brief or programme.brief.content
    book = rulebook.with_changes(used.rules) if used and used.rules and not rulebook.changes else rulebook
    return check(programme, brief=used, rulebook=book, catalogue=catalogue)


def check_squad(programme: Programme, *, rulebook: Rulebook, catalogue: Catalogue) -> Findings:
    """Find the same by the brief inside the document, athlete by athlete.

    After a change only those are looked at again whom it touches: for a whole squad whose revision before has
    been looked at, and is still in memory, that is quick.

    Args:
        programme: the document.
        rulebook: the rules and their numbers, with the document's own changes.
        catalogue: the exercises; entries embedded in the brief win.
    """
    return check_by_athlete(programme, brief=programme.brief.content, rulebook=rulebook, catalogue=catalogue)
