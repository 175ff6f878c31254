"""What a new revision would change, in words and as pictures, before anybody accepts it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from speedloom.report.charts.weave_drawing import weave_svg
from speedloom.report.charts.weave_programme import weave_from_programme
from speedloom.training.programme import Programme, Week
from speedloom.wording.books import books_of
from speedloom.wording.dates import listing
from speedloom.wording.findings import FindingsBook, finding_sentence
from speedloom.wording.names import athlete_name, athletes_of
from speedloom.wording.replanned import replanned_lines
from speedloom.workflows.check_programme import check_programme


@dataclass(frozen=True)
class DifferenceShown:
    """A revision beside the one before it."""

    changed: bool
    number: int
    lines: tuple[str, ...]
    hard: tuple[str, ...]
    athletes: tuple[tuple[str, str, bool], ...]
    athlete: str
    name: str
    weeks: str
    before: str
    after: str


def difference_shown(
    before: Programme, made: Programme, *, since: date, athlete: str | None
) -> DifferenceShown:
    """Lay a revision beside the one before it.

    Args:
        before: the revision before.
        made: the new one; the same where nothing is new.
        since: first day that may change.
        athlete: whose picture is shown; else the first whose weeks change.
    """
    changes = {ref: _changed_weeks(before, made, ref) for ref in athletes_of(made)}
    touched = [ref for ref, weeks in changes.items() if weeks]
    shown = athlete if athlete in changes else (touched or list(changes))[0]
    return DifferenceShown(
        changed=made is not before,
        number=made.revision.number,
        lines=_joined(replanned_lines(before, made, since=since)),
        hard=_new_hard(before, made) if made is not before else (),
        athletes=tuple((ref, athlete_name(made, ref), bool(weeks)) for ref, weeks in changes.items()),
        athlete=shown,
        name=athlete_name(made, shown),
        weeks=listing(map(str, changes[shown])),
        before=_weave(before, shown, "before") if shown in athletes_of(before) else "",
        after=_weave(made, shown, "after"),
    )


def _joined(lines: tuple[str, ...]) -> tuple[str, ...]:
    """Put lines that were broken for a terminal together again: a page breaks them itself."""
    whole: list[str] = []
    for line in lines:
        if line.startswith("  ") and whole:
            whole[-1] += f" {line.strip()}"
        else:
            whole.append(line)
    return tuple(whole)


def _weave(programme: Programme, athlete: str, ident: str) -> str:
    _book, catalogue = books_of(programme)
    return weave_svg(weave_from_programme(programme, athlete, catalogue=catalogue), skin="page", ident=ident)


def _changed_weeks(before: Programme, made: Programme, athlete: str) -> tuple[int, ...]:
    was, now = _weeks(before, athlete), _weeks(made, athlete)
    return tuple(number for number in now if now[number] != was.get(number))


def _weeks(programme: Programme, athlete: str) -> dict[int, tuple[object, ...]]:
    own = next((one for one in programme.programmes if one.athlete == athlete), None)
    return {week.number: _work(week) for week in own.weeks} if own else {}


def _work(week: Week) -> tuple[object, ...]:
    """Give what is to be done in a week; how its numbers came about is no change of the work."""
    plain: dict[str, object] = {"basis": {}}
    return tuple(
        session.model_copy(
            update={
                **plain,
                "prescriptions": tuple(line.model_copy(update=plain) for line in session.prescriptions),
            }
        )
        for session in week.sessions
    )


def _new_hard(before: Programme, made: Programme) -> tuple[str, ...]:
    """Say what the check finds hard in the new revision and did not in the one before."""
    rulebook, catalogue = books_of(made)
    hard = check_programme(made, brief=None, rulebook=rulebook, catalogue=catalogue).hard()
    if not hard:
        return ()
    known = check_programme(before, brief=None, rulebook=rulebook, catalogue=catalogue).hard()
    there = {(one.rule, one.number, one.athlete, one.week, one.session, one.line) for one in known}
    book = FindingsBook(rulebook=rulebook, catalogue=catalogue, programme=made)
    return tuple(
        finding_sentence(one, book=book)
        for one in hard
        if (one.rule, one.number, one.athlete, one.week, one.session, one.line) not in there
    )
