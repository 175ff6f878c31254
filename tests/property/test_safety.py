"""No generated programme does what its people must never have, by a judge that knows nothing else."""

from __future__ import annotations

import json
from collections.abc import Callable
from copy import deepcopy

import pytest
from hypothesis import HealthCheck, given, settings

from drawn_briefs import briefs
from invented_briefs import CATALOGUE, Data, athlete, brief, outcome, planned
from safety_judge import judge
from speedloom.training.programme import Programme


@given(briefs())
@settings(max_examples=60, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
def test_nobody_gets_what_their_rules_forbid(drawn: tuple[Data, list[Data]]) -> None:
    result = outcome(*drawn)
    if isinstance(result, Programme):
        assert judge(json.loads(result.model_dump_json(by_alias=True))) == []


LIMITS: list[Data] = [
    {"what": "share_vmax", "at_most": 0.8},
    {"what": "load_kg", "at_most": 60.0, "method": "maximal_strength"},
    {"what": "contacts", "at_most": 40},
    {"what": "sets", "at_most": 8, "method": "general_strength"},
]


def people() -> list[Data]:
    """Make a youth and a restricted athlete."""
    limit = {"ref": "thigh", "limits": LIMITS, "from": "2026-01-12", "until": "2026-02-15"}
    limit |= {"set_by": "physio", "set_as": "clinician"}
    away = [{"date": "2026-03-09", "until": "2026-03-10"}]
    return [
        athlete("ada", born="2012-01-01"),
        athlete("ben", restrictions=[limit], away=away),
    ]


def whole() -> Data:
    """Plan both with a match in week 4, and give the document."""
    match = {"kind": "match", "title": "Home", "date": "2026-02-07", "start": "15:00:00"}
    programme = planned(brief(*people(), events=[match]))
    return json.loads(programme.model_dump_json(by_alias=True))  # type: ignore[no-any-return]


WHOLE = whole()
Change = Callable[[Data, Data], object]


def lines(document: Data, ref: str, *, week: int = 2, **fields: object) -> list[tuple[Data, Data]]:
    """Give a week's working lines of an athlete whose fields have these values, with their sessions."""
    own = next(one for one in document["programmes"] if one["athlete"] == ref)
    return [
        (session, line)
        for session in own["weeks"][week - 1]["sessions"]
        for line in session["prescriptions"]
        if line["purpose"] == "work" and all(line[name] == value for name, value in fields.items())
    ]


def on(**fields: object) -> Change:
    """Change a line."""
    return lambda _, line: line.update(fields)


def at(**fields: object) -> Change:
    """Change a session."""
    return lambda session, _: session.update(fields)


RUN, LIFT, JUMP = {"run": "acceleration"}, {"method": "maximal_strength"}, {"method": "plyometric"}
TAMPERED: list[tuple[str, Data, int, Change, str]] = [
    ("ada", LIFT, 2, on(share_1rm=0.85), "above 80 %"),
    ("ada", LIFT, 2, on(rir=2), "fewer than three"),
    ("ada", LIFT, 2, on(reps=1), "a single repetition"),
    ("ada", JUMP, 2, on(exercise="depth_jump"), "shock jumps"),
    ("ada", JUMP, 2, on(added_kg=5.0), "worn mass"),
    ("ada", {"method": "resisted_sprint"}, 2, on(decrement=0.3), "a sled slower"),
    ("ada", {"run": "top_speed"}, 2, on(distance_m=20.0), "a zone longer"),
    ("ada", RUN, 2, on(distance_m=200.0), "on a straight"),
    ("ada", RUN, 2, on(minutes=60.0), "longer than it says"),
    ("ada", RUN, 2, at(minutes=120.0), "longer than its slot"),
    ("ada", RUN, 2, at(date="2026-02-07"), "on a day of match"),
    ("ada", RUN, 4, at(date="2026-02-08"), "the day after a match"),
    ("ada", RUN, 2, at(date="2027-01-11"), "outside the brief's dates"),
    ("ada", RUN, 2, at(date="2026-01-20"), "another weekday"),
    ("ada", LIFT, 4, at(date="2026-02-06"), "lifts the day before"),
    ("ben", RUN, 2, on(effort=None), "share_vmax"),
    ("ben", RUN, 2, on(effort=0.85), "share_vmax"),
    ("ben", RUN, 6, on(effort=1.0), "share_vmax"),
    ("ben", LIFT, 2, on(load_kg=80.0), "load_kg"),
    ("ben", LIFT, 2, on(load_kg=None), "load_kg"),
    ("ben", LIFT, 2, on(load_kg=58.1), "no plates make"),
    ("ben", LIFT, 2, on(kit="sled"), "stands elsewhere"),
    ("ben", JUMP, 2, on(sets=20), "contacts"),
    ("ben", {"method": "general_strength"}, 2, on(sets=9), "sets"),
    ("ben", RUN, 2, at(date="2026-03-09"), "trains while away"),
]


def test_what_is_to_be_tampered_with_is_safe_at_first() -> None:
    assert judge(deepcopy(WHOLE)) == []


@pytest.mark.parametrize(
    ("ref", "fields", "week", "change", "said"), TAMPERED, ids=lambda value: str(value)[:30]
)
def test_the_judge_sees_a_programme_that_was_tampered_with(
    ref: str, fields: Data, week: int, change: Change, said: str
) -> None:
    document = deepcopy(WHOLE)
    shock = CATALOGUE.get("depth_jump")
    assert shock is not None
    document["brief"]["content"]["catalogue"].append(shock.model_dump(mode="json"))
    session, line = lines(document, ref, week=week, **fields)[0]
    change(session, line)
    assert [fault for fault in judge(document) if said in fault]
