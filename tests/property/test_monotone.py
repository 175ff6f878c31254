"""What must follow from what: longer slots, other bodies, swapped tests, other orders, other seeds."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from concurrent.futures import ProcessPoolExecutor
from copy import deepcopy
from multiprocessing import get_context
from pathlib import Path
from random import Random
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drawn_briefs import briefs
from invented_briefs import (
    Data,
    athlete,
    brief,
    changed,
    lines,
    outcome,
    planned,
    resolved,
    sessions,
    text,
    trial,
    weeks,
)
from speedloom.planning import athlete_plan
from speedloom.planning.solver import IntegerProblem, Solution, solve
from speedloom.training.programme import Programme

SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large]
FIVE_WEEKS = "2026-02-15"


def costs(data: Data, timed: list[Data] | None = None) -> list[int]:
    """Give what each week's best choice costs: 0 = all the work in the counts that were proposed."""
    found: list[int] = []

    def watched(problem: IntegerProblem) -> Solution | None:
        answer = solve(problem)
        found.append(0 if answer is None else answer.cost)
        return answer

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(athlete_plan, "solve", watched)
        assert isinstance(outcome(data, timed), Programme)
    return found


@given(st.integers(50, 90), st.integers(1, 30), st.sampled_from(("novice", "intermediate", "advanced")))
@settings(max_examples=12)
def test_more_minutes_never_give_up_more_work(minutes: int, more: int, level: str) -> None:
    def with_minutes(total: int) -> Data:
        data = brief(athlete(level=level), end=FIVE_WEEKS)
        for one in data["slots"]:
            one["minutes"] = total
        return data

    short, long = costs(with_minutes(minutes)), costs(with_minutes(minutes + more))
    assert all(after <= before for before, after in zip(short, long, strict=True))


def sleds(f0: float = 8.0, mass: float = 65.0, friction: float = 0.38) -> list[float]:
    """Give the sled loads of an athlete."""
    data = brief(athlete(mass_kg=mass), end=FIVE_WEEKS)
    data["kit"][1]["friction"] = {"value": friction, "se": 0.02}
    programme = planned(data, [trial(f0=f0, mass=mass)])
    return [line.load_kg or 0 for line in lines(programme, exercise="sled_sprint")]


def test_a_heavier_athlete_pulls_more_and_less_friction_too() -> None:
    light, heavy = sleds(mass=55.0), sleds(mass=85.0)
    assert all(more > less for less, more in zip(light, heavy, strict=True))
    smooth, rough = sleds(friction=0.30), sleds(friction=0.50)
    assert all(more > less for less, more in zip(rough, smooth, strict=True))


def test_loads_follow_the_body_in_proportion() -> None:
    # The motion divided by body mass: air aside, the same decrement takes the same share of body mass.
    shares = [load / 55.0 for load in sleds(mass=55.0)[2:]]
    other = [load / 85.0 for load in sleds(mass=85.0)[2:]]
    assert shares == pytest.approx(other, rel=0.12)


def test_more_force_at_the_start_pulls_more() -> None:
    weak, strong = sleds(f0=6.8), sleds(f0=8.8)
    assert sum(strong) > sum(weak)


def bare(programme: Programme, ref: str) -> list[dict[str, Any]]:
    """Give an athlete's sessions without refs and basis."""
    gone = {"ref", "basis"}
    return [
        session.model_dump(exclude=gone | {"prescriptions"})
        | {"lines": [line.model_dump(exclude=gone) for line in session.prescriptions]}
        for session in sessions(programme, ref)
    ]


def test_swapped_tests_swap_the_programmes() -> None:
    data = brief(athlete("ada"), athlete("ben"), end="2026-04-05")
    one = planned(data, [trial("ada", f0=7.0, v0=9.9), trial("ben", f0=8.6, v0=8.4)])
    other = planned(data, [trial("ben", f0=7.0, v0=9.9), trial("ada", f0=8.6, v0=8.4)])
    assert bare(one, "ada") == bare(other, "ben")
    assert bare(one, "ben") == bare(other, "ada")
    assert bare(one, "ada") != bare(one, "ben")


@given(briefs(), st.randoms(use_true_random=False))
@settings(max_examples=10, suppress_health_check=SLOW)
def test_the_order_of_lists_changes_no_byte(drawn: tuple[Data, list[Data]], chance: Random) -> None:
    data, timed = drawn
    first = outcome(data, timed)
    mixed = deepcopy(data)
    for name in ("athletes", "slots", "places", "kit", "events"):
        chance.shuffle(mixed[name])
    chance.shuffle(mixed["phases"]["methods"])
    chance.shuffle(mixed["goal"]["peaks"])
    for person in mixed["athletes"]:
        for restriction in person.get("restrictions", []):
            chance.shuffle(restriction["limits"])
    second = outcome(mixed, timed[::-1])
    if isinstance(first, Programme):
        assert isinstance(second, Programme)
        assert text(first) == text(second)
    else:
        assert first == second


def test_the_seed_decides_only_between_equally_good_programmes() -> None:
    data = brief(end=FIVE_WEEKS)
    for one in data["slots"]:
        one["minutes"] = 57
    texts, prices = set(), []
    for seed in range(4):
        seeded = changed(data, lambda copy, seed=seed: copy.update(seed=seed))
        prices.append(costs(seeded))
        programme = planned(seeded)
        texts.add(json.dumps(bare(programme, "ada"), default=str))
    assert prices == [prices[0]] * 4
    assert len(texts) > 1


def test_a_seed_gives_the_same_bytes_again() -> None:
    data = brief(athlete("ada"), athlete("ben"), end=FIVE_WEEKS)
    assert text(planned(data)) == text(planned(data))


def test_one_more_athlete_changes_no_load_of_the_others() -> None:
    # The queue for kit grows, which shows in minutes.
    alone = planned(brief(athlete("ada"), end=FIVE_WEEKS))
    both = planned(brief(athlete("ada"), athlete("ben"), end=FIVE_WEEKS))
    for one, other in zip(weeks(alone), weeks(both, "ada"), strict=True):
        loads = [line.load_kg for session in one.sessions for line in session.prescriptions]
        again = [line.load_kg for session in other.sessions for line in session.prescriptions]
        assert loads == again


SCRIPT = """
import json, sys
from hashlib import sha256
from invented_briefs import planned, text
for data in json.loads(sys.stdin.read()):
    print(sha256(text(planned(data)).encode()).hexdigest())
"""


def several() -> list[Data]:
    """Make three briefs that differ."""
    two = brief(athlete("ada"), athlete("ben", level="novice"), end=FIVE_WEEKS)
    short = brief(athlete(level="intermediate"), end=FIVE_WEEKS)
    for one in short["slots"]:
        one["minutes"] = 55
    return [brief(end=FIVE_WEEKS), two, short]


def fingerprints(hash_seed: str) -> list[str]:
    """Plan in a new process with a hash seed."""
    tests = Path(__file__).parents[1]
    found_at = os.pathsep.join(map(str, (tests, tests.parent / "src")))
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT],
        input=json.dumps(several()),
        capture_output=True,
        text=True,
        check=True,
        env=os.environ | {"PYTHONHASHSEED": hash_seed, "PYTHONPATH": found_at},
    )
    return done.stdout.split()


def test_hash_seeds_change_no_byte() -> None:
    zero, one = fingerprints("0"), fingerprints("1")
    assert len(zero) == 3
    assert zero == one


def _text_of(data: Data) -> str:
    return text(planned(data))


def test_any_number_of_processes_gives_the_same_bytes() -> None:
    alone = [_text_of(data) for data in several()]
    for workers in (1, 2):
        with ProcessPoolExecutor(workers, mp_context=get_context("fork")) as pool:
            assert list(pool.map(_text_of, several())) == alone


def test_a_resolved_brief_is_the_same_in_any_order() -> None:
    data = brief(athlete("ada"), athlete("ben"))
    turned = changed(
        data, lambda copy: [copy[name].reverse() for name in ("athletes", "slots", "kit", "places")]
    )
    assert resolved(data) == resolved(turned)
