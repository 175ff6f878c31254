"""Who does the same stands together: the head above a row never says another dose than the row's own."""

from __future__ import annotations

import json
from datetime import date
from typing import Any

from field_entries import DAY, client, here
from invented_squads import Squads
from small_programme import document
from speedloom.report.sheets.squad import squad_sessions
from speedloom.training.programme import Programme
from speedloom.web.pages.session.shown import StepShown, steps_shown
from speedloom.wording.books import books_of
from speedloom.wording.session_words import line_words

SLED = 2
"""Where the sled stands among the lines of the small programme's second Monday."""


def steps_of_squad(**changes: dict[str, Any]) -> tuple[Programme, tuple[StepShown, ...]]:
    """Give the training of as many as there are changes, each with a sled line of their own."""
    plain = document()
    own = json.dumps(plain["programmes"][0])
    plain["programmes"] = []
    for name, change in sorted(changes.items()):
        one = json.loads(own.replace("mila", name))
        line = one["weeks"][1]["sessions"][0]["prescriptions"][SLED]
        assert line["exercise"] == "sled_sprint"
        line["expect"] |= change.pop("expect", {})
        line |= change
        plain["programmes"].append(one)
    programme = Programme.model_validate_json(json.dumps(plain))
    day = date.fromisoformat(DAY)
    (session,) = squad_sessions(programme, first=day, last=day)
    return programme, steps_shown(programme, session, (), catalogue=books_of(programme)[1])


def sled(steps: tuple[StepShown, ...]) -> StepShown:
    return next(step for step in steps if step.words.name == "Sled sprint")


def test_each_dose_has_a_head_of_its_own_and_what_all_share_is_said_once() -> None:
    programme, steps = steps_of_squad(
        mila={}, noa={"distance_m": 20}, ada={"expect": {"time_s": 3.3}}, zoe={"distance_m": 20, "reps": 2}
    )
    step = sled(steps)
    assert [[row.athlete for row in group.rows] for group in step.groups] == [
        ["ada", "mila"],
        ["noa"],
        ["zoe"],
    ]
    assert [group.head for group in step.groups] == ["4 × 10 m", "4 × 20 m", "2 × 20 m"]
    assert step.dose == "", "no dose stands above rows that do another"
    lines = {line.ref: line for _, session in programme.sessions() for line in session.prescriptions}
    _book, catalogue = books_of(programme)
    for each in steps:
        for group in each.groups:
            assert {line_words(lines[row.line], catalogue=catalogue).dose for row in group.rows} == {
                group.dose
            }
    assert {row.expect for row in step.rows} == {"3.48 s", "3.30 s"}, (
        "what is the athlete's own is in the row"
    )
    assert "start 0.5 m behind" in step.about


def test_another_gate_layout_is_said_where_it_holds() -> None:
    _, steps = steps_of_squad(mila={}, noa={"expect": {"clock": "gates/behind/0.3"}})
    step = sled(steps)
    assert step.dose == "4 × 10 m"
    assert "behind the first beam" not in step.about
    assert [row.own for row in step.rows] == ["0.5 m behind the beam", "0.3 m behind the beam"]


def test_one_dose_for_all_stands_beside_the_name(squads: Squads) -> None:
    page = client(squads.by_role["assistant"]).get(here(squads)).content.decode()
    assert 'Sled sprint <span class="dose">4 × 10 m</span>' in page
    assert 'class="group"' not in page
