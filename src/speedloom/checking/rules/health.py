"""H1: nobody with symptoms, or with a disease that is not cleared, gets sprint work."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from speedloom.checking.finding import Finding
from speedloom.checking.scene import Scene, Visit

_MONTHS = 12


def screening(scene: Scene) -> Iterator[Finding]:
    """Find sprint work for athletes who are not cleared, or were asked too long ago; once an athlete."""
    for person in scene.people:
        answers = person.entry.screening if person.entry else None
        sprints = [visit for visit in scene.visits_of[person.ref] if _sprints(visit)]
        if answers is None or not sprints:
            continue
        if answers.pain or not answers.cleared:
            yield scene.breach("screening", visit=sprints[0], value="pain" if answers.pain else "not_cleared")
        months = scene.number("screening", "valid_months")
        late = [visit for visit in sprints if _months_between(answers.on, visit.day) >= months]
        if late:
            age = _months_between(answers.on, late[0].day)
            yield scene.breach("screening", "valid_months", visit=late[0], value=float(age))


def _sprints(visit: Visit) -> bool:
    return any(work.is_run or work.is_sled for work in visit.work)


def _months_between(earlier: date, later: date) -> int:
    months = (later.year - earlier.year) * _MONTHS + later.month - earlier.month
    return months - (later.day < earlier.day)
