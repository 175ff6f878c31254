"""A squad's check put together from its athletes' is the check of the whole, whatever a coach does before."""

from __future__ import annotations

from datetime import date
from functools import cache
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from drawn_edits import Deed, Story, deeds, live
from edited import work
from invented_briefs import CATALOGUE, RULEBOOK, athlete, brief, planned
from speedloom.checking.finding import Findings
from speedloom.planning.edited import Change
from speedloom.training.athlete import Restriction
from speedloom.training.programme import Programme
from speedloom.training.rule import Rulebook, RuleChange
from speedloom.wording.books import books_of
from speedloom.workflows.check_programme import check_programme, check_squad
from speedloom.workflows.edit import edit


@cache
def squad() -> Programme:
    """Plan three who share one hall, one bar and one sled."""
    data = brief(*(athlete(ref) for ref in ("ada", "bea", "cleo")), end="2026-02-08")
    data["phases"] = {"mesocycle_weeks": [4], "taper_days": 0}
    return planned(data)


def both(programme: Programme, *, rulebook: Rulebook = RULEBOOK) -> tuple[Findings, Findings]:
    """Check by athlete, and the whole anew."""
    return (
        check_squad(programme, rulebook=rulebook, catalogue=CATALOGUE),
        check_programme(programme, brief=None, rulebook=rulebook, catalogue=CATALOGUE),
    )


@given(deeds())
@settings(
    max_examples=8, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large], deadline=None
)
def test_after_any_chain_of_changes_both_say_the_same(chain: list[Deed]) -> None:
    story = Story([squad()])
    for deed in chain:
        live(story, deed)
        by_athlete, whole = both(story.newest)
        assert by_athlete == whole


@pytest.fixture
def seen() -> Programme:
    """A squad's programme that has been looked at: what was found of everybody is kept."""
    both(squad())
    return squad()


def content(programme: Programme, **changes: Any) -> Programme:  # noqa: ANN401 - any part of a brief
    """Give a programme with another brief inside, and everybody's weeks the very ones in memory."""
    assert programme.brief.content is not None
    brief = programme.brief.content.model_copy(update=changes)
    return programme.model_copy(update={"brief": programme.brief.model_copy(update={"content": brief})})


def test_a_limit_set_now_answers_at_once(seen: Programme) -> None:
    assert seen.brief.content is not None
    first, *others = seen.brief.content.athletes
    limit = Restriction.model_validate(
        {
            "ref": "knee",
            "limits": ({"what": "sets", "at_most": 0.0, "method": "maximal_strength"},),
            "from": date(2026, 1, 1),
            "set_by": "Dr Example",
            "set_as": "clinician",
        }
    )
    held = first.model_copy(update={"restrictions": (limit,)})
    by_athlete, whole = both(content(seen, athletes=(held, *others)))
    assert by_athlete == whole
    assert by_athlete.of_rule("restriction_kept")


def test_another_number_of_a_rule_answers_at_once(seen: Programme) -> None:
    stricter = RuleChange.model_validate(
        {"rule": "sprint_gap", "number": "gap_h", "value": 200.0, "reason": "A test"}
    )
    by_athlete, whole = both(seen, rulebook=RULEBOOK.with_changes((stricter,)))
    assert by_athlete == whole
    assert len(by_athlete.of_rule("sprint_gap")) > len(both(seen)[0].of_rule("sprint_gap"))


def test_a_test_that_is_gone_answers_at_once(seen: Programme) -> None:
    assert seen.brief.content is not None
    none = seen.brief.content.measurements.model_copy(update={"trials": ()})
    by_athlete, whole = both(content(seen, measurements=none))
    assert by_athlete == whole
    assert by_athlete.of_rule("derivation")


def test_a_step_changed_behind_everybodys_back_is_found(seen: Programme) -> None:
    name, node = next((name, one) for name, one in seen.basis.items() if one.by == "total")
    wrong = seen.basis | {name: node.model_copy(update={"value": float(node.value or 0.0) + 7.0})}
    by_athlete, whole = both(seen.model_copy(update={"basis": wrong}))
    assert by_athlete == whole
    assert by_athlete.of_rule("derivation")


def test_days_that_are_over_by_now_are_not_judged(seen: Programme) -> None:
    last = max(session.date for own in seen.programmes for week in own.weeks for session in week.sessions)
    over = seen.model_copy(update={"revision": seen.revision.model_copy(update={"frozen_until": last})})
    by_athlete, whole = both(over)
    assert by_athlete == whole
    assert by_athlete != both(seen)[0]


def test_somebody_who_leaves_makes_room_for_the_others(seen: Programme) -> None:
    by_athlete, whole = both(seen.model_copy(update={"programmes": seen.programmes[1:]}))
    assert by_athlete == whole


def test_one_line_changed_leaves_the_others_as_they_were_found(seen: Programme) -> None:
    line = work(seen, method="unloaded_sprint")[-1]
    made = edit(seen, [Change(line["ref"], "reps", 20)], reason="Many", rulebook=RULEBOOK)
    rulebook, catalogue = books_of(made)
    found = check_squad(made, rulebook=rulebook, catalogue=catalogue)
    assert found == check_programme(made, brief=None, rulebook=rulebook, catalogue=catalogue)
    changed = {own.athlete for own, was in zip(made.programmes, seen.programmes, strict=True) if own != was}
    assert {one.athlete for one in set(found) - set(both(seen)[0])} == changed
    # What the next check rests on: of everybody else the very weeks and steps in memory.
    assert sum(own is was for own, was in zip(made.programmes, seen.programmes, strict=True)) == len(
        seen.programmes
    ) - len(changed)
    assert all(made.basis[name] is node for name, node in seen.basis.items() if name in made.basis)
