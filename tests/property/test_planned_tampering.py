"""A planned programme is good, and whatever is changed in it by hand or by mistake is found where it is."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable, Iterator
from datetime import date, timedelta

import pytest

from briefs import EXAMPLES, planned
from speedloom.checking.finding import Finding, Findings
from speedloom.checking.recompute.nodes import FORMULAS
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.workflows.check_programme import check_programme
from unit.checking.programme_edit import Json, put

EXAMPLE = EXAMPLES / "summer_base.toml"
STRICT = ("hard", "warning")
FIELDS = (
    "sets", "reps", "distance_m", "run_in_m", "load_kg", "decrement", "share_1rm", "rir", "contacts",
    "rest_reps_s", "rest_s", "minutes",
)  # fmt: skip


def as_json(programme: Programme) -> Json:
    content: Json = json.loads(programme.model_dump_json(by_alias=True))
    return content


def check(document: Json) -> Findings:
    programme = Programme.model_validate_json(json.dumps(document))
    return check_programme(programme, brief=None, rulebook=load_rulebook(), catalogue=load_catalogue())


@pytest.fixture(scope="module")
def good() -> Json:
    return as_json(planned(EXAMPLE))


@pytest.fixture
def document(good: Json) -> Json:
    return copy.deepcopy(good)


def sessions(document: Json) -> Iterator[Json]:
    for programme in document["programmes"]:
        for week in programme["weeks"]:
            yield from week["sessions"]


def lines(document: Json, **wanted: object) -> Iterator[tuple[Json, Json]]:
    """Give sessions and working lines with these values."""
    for session in sessions(document):
        for line in session["prescriptions"]:
            if line["purpose"] == "work" and all(line[name] == value for name, value in wanted.items()):
                yield session, line


def worst(findings: Findings) -> list[Finding]:
    return [finding for finding in findings if finding.weight in STRICT]


@pytest.mark.parametrize("name", ["short_block", "summer_base"])
def test_planned_examples_hold_nothing_hard(name: str) -> None:
    assert check(as_json(planned(EXAMPLES / f"{name}.toml"))).hard() == ()


@pytest.mark.parametrize("field", FIELDS)
def test_a_number_that_is_not_its_nodes_is_found_at_its_line(document: Json, field: str) -> None:
    chosen = [line for _, line in lines(document) if line[field]]
    line = chosen[len(chosen) // 2]
    line[field] += 1 if isinstance(line[field], int) else 0.5
    if field in {"decrement", "share_1rm"}:
        line[field] = round(line[field] - 0.49, 3)
    found = [one for one in check(document).of_rule("derivation") if one.number == field]
    assert [one.line for one in found] == [line["ref"]]


def test_every_formula_in_use_is_computed_again(good: Json) -> None:
    used = {node["by"] for node in good["basis"].values()}
    assert used - FORMULAS == set()
    blind = [formula for formula in sorted(used - {"coach"}) if not _notices(good, formula)]
    assert blind == []


def _notices(good: Json, formula: str) -> bool:
    """Change the value of one node of a formula by 1 % (a count by 99), and look whether it is found."""
    document = copy.deepcopy(good)
    nodes = document["basis"]
    ref = next(ref for ref, node in nodes.items() if node["by"] == formula and _is_number(node))
    node = nodes[ref]
    node["value"] = node["value"] + 99 if formula == "solver.count" else node["value"] * 1.01 + 1e-3
    findings = check(document).of_rule("derivation")
    return any(("node", ref) in finding.detail for finding in findings)


def _is_number(node: Json) -> bool:
    return isinstance(node["value"], int | float)


def test_numbers_of_another_athlete_are_found(document: Json) -> None:
    first, second = (one["athlete"] for one in document["programmes"])
    tests = {node["inputs"].get("trials", "") for node in document["basis"].values()}
    own, other = (
        next(test for test in tests if test.startswith(f"test:{athlete}/")) for athlete in (first, second)
    )
    line = next(line for _, line in lines(document) if line["expect"] and line["ref"].startswith(first))
    node = document["basis"][line["basis"]["expect.time_s"]]
    fits = {
        ref: one
        for ref, one in document["basis"].items()
        if one["by"] == "profile.fit" and one["quantity"] == "f0"
    }
    mine = next(ref for ref, one in fits.items() if one["inputs"]["trials"] == own)
    theirs = next(ref for ref, one in fits.items() if one["inputs"]["trials"] == other)
    while mine not in node["inputs"].values():
        node = document["basis"][node["inputs"]["time_s"]]
    node["inputs"] = {name: theirs if ref == mine else ref for name, ref in node["inputs"].items()}
    why = {dict(one.detail)["why"] for one in check(document).of_rule("derivation")}
    assert "about something else" in why


def test_minutes_left_as_they_were_are_found(document: Json) -> None:
    _, line = next(lines(document, method="maximal_strength"))
    put(document, line, "sets", line["sets"] + 1)
    found = [one for one in check(document).of_rule("derivation") if one.line == line["ref"]]
    assert [(one.number, dict(one.detail)["argument"]) for one in found] == [("minutes", "sets")]


def test_volumes_left_as_they_were_are_found(document: Json) -> None:
    _, line = next(lines(document, method="resisted_sprint"))
    put(document, line, "reps", line["reps"] + 1)
    numbers = {one.number for one in check(document).of_rule("derivation")}
    assert "volumes.resisted_sprint" in numbers


def away(document: Json) -> None:
    session = next(sessions(document))
    athlete = session["ref"].rpartition("-")[0]
    entry = next(one for one in document["brief"]["content"]["athletes"] if one["ref"] == athlete)
    entry["away"] = [{"date": session["date"], "until": None}]


def closed(document: Json) -> None:
    event = {"kind": "other", "title": "Roof repair", "date": next(sessions(document))["date"]}
    document["brief"]["content"]["events"].append(event | {"training": "none"})


def in_pain(document: Json) -> None:
    answers = {"on": "2026-05-30", "pain": True, "cleared": True, "last_hard_sprint": None}
    document["brief"]["content"]["athletes"][0]["screening"] = answers


def short_slots(document: Json) -> None:
    for slot in document["brief"]["content"]["slots"]:
        slot["minutes"] = 30


def short_straight(document: Json) -> None:
    for place in document["brief"]["content"]["places"]:
        place["straight_m"] = 20.0


def no_kit(document: Json) -> None:
    document["brief"]["content"]["kit"] = [
        kit for kit in document["brief"]["content"]["kit"] if kit["kind"] != "hurdle"
    ]


def limited(document: Json) -> None:
    limit = {"what": "share_vmax", "at_most": 0.5}
    restriction = {
        "ref": "tight",
        "limits": [limit],
        "from": "2026-01-01",
        "set_by": "physio",
        "set_as": "clinician",
    }
    document["brief"]["content"]["athletes"][0]["restrictions"] = [restriction]


def hurried(document: Json) -> None:
    _, line = next(pair for pair in lines(document, method="plyometric") if pair[1]["rest_s"])
    put(document, line, "rest_s", 20)


def next_day(document: Json) -> None:
    fast = [session for session, line in lines(document, run="top_speed")]
    session = fast[-1]
    same = [
        one
        for one in sessions(document)
        if one["ref"].rpartition("-")[0] == session["ref"].rpartition("-")[0]
    ]
    before = max(
        (one for one in same if one["date"] < session["date"] and _runs(one)), key=lambda one: one["date"]
    )
    session["date"] = (date.fromisoformat(before["date"]) + timedelta(days=1)).isoformat()
    session["slot"] = None


def _runs(session: Json) -> bool:
    return any(line["run"] == "acceleration" for line in session["prescriptions"])


MISTAKES: dict[str, Callable[[Json], None]] = {
    "athlete_away": away,
    "kit_present": no_kit,
    "no_training_day": closed,
    "place_straight": short_straight,
    "restriction_kept": limited,
    "screening": in_pain,
    "short_rest": hurried,
    "slot_minutes": short_slots,
    "sprint_gap": next_day,
}


@pytest.mark.parametrize("rule", sorted(MISTAKES))
def test_a_mistake_in_a_planned_programme_is_found(document: Json, good: Json, rule: str) -> None:
    before = {one.rule for one in worst(check(good))}
    MISTAKES[rule](document)
    assert rule in {one.rule for one in worst(check(document))} - before
