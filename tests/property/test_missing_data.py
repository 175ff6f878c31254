"""The band of an expected time grows as data shrink: fewer gates, a hand, an unknown clock or sled."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from invented_briefs import RULEBOOK, Data, athlete, brief, resolved, trial
from speedloom.planning.ledger import Ledger
from speedloom.planning.lines.clock import expected_band
from speedloom.planning.measured import AthleteNumbers, athlete_numbers
from speedloom.workflows.plan_programme import measured_athletes

GATES = (5.0, 10.0, 20.0, 30.0, 40.0)
DISTANCES = (10.0, 20.0, 30.0)
# A fifth of the hundredth that a clock shows: at the border where a fit begins to lean on what is usual, and
# where the fit is curved, the band steps by a millisecond.
STEP_S = 0.002

people = st.tuples(st.floats(6.2, 8.6), st.floats(7.6, 9.8))
gates = st.sampled_from([few for size in (3, 4, 5) for few in combinations(GATES, size)])
clocks = st.sampled_from(("movement", "behind", "unknown"))
Width = Callable[[float], float]


def free(timed: Data) -> Width:
    """Give the width [s] of the band of a free run over a distance, as it would be planned."""
    ledger, numbers = _entered(timed)

    def width(distance_m: float) -> float:
        at = ledger.given("distance", distance_m, "m", f"literal:{distance_m:g}")
        time = ledger.compute("time", "s", "sprint.time", **numbers.motion(), distance_m=at)
        band = expected_band(ledger, numbers, time, friction=None)
        return float(band.high.value) - float(band.low.value)

    return width


def towed(timed: Data, *, low: float, high: float) -> Width:
    """Give the width [s] of the band of a run with 30 kg on a sled of this friction."""
    ledger, numbers = _entered(timed)
    between = {"low": f"literal:{low:g}", "high": f"literal:{high:g}"}
    rubs = ledger.put(
        "friction", (low + high) / 2, "1", by="friction.middle", inputs={**between}, band=(low, high)
    )

    def width(distance_m: float) -> float:
        time = ledger.compute(
            "time",
            "s",
            "sprint.time",
            **numbers.motion(),
            distance_m=f"literal:{distance_m:g}",
            load_kg="literal:30",
            friction=rubs,
        )
        band = expected_band(ledger, numbers, time, friction=rubs)
        return float(band.high.value) - float(band.low.value)

    return width


def _entered(timed: Data) -> tuple[Ledger, AthleteNumbers]:
    known = resolved(brief(athlete()), [timed])
    ledger = Ledger(known, RULEBOOK)
    measured = measured_athletes(known, rulebook=RULEBOOK)["ada"]
    return ledger, athlete_numbers(ledger, known.athletes[0], measured=measured)


def run(person: tuple[float, float], at: tuple[float, ...], *, clock: str, by: str = "gates") -> Data:
    """Make a timed run of somebody with this force and speed."""
    return trial(f0=person[0], v0=person[1], clock=clock, gates=at) | {"timing": by}


def grows(few: Width, many: Width) -> bool:
    """Say whether a band is nowhere narrower with fewer data."""
    return all(few(distance) >= many(distance) - STEP_S for distance in DISTANCES)


@given(people, gates, clocks, st.sampled_from(("gates", "hand")), st.data())
@settings(max_examples=60)
def test_one_gate_less_never_narrows_the_band(
    person: tuple[float, float], at: tuple[float, ...], clock: str, by: str, data: st.DataObject
) -> None:
    gone = data.draw(st.sampled_from(at))
    left = tuple(gate for gate in at if gate != gone)
    few, many = (run(person, those, clock=clock, by=by) for those in (left, at))
    assert grows(free(few), free(many))


@given(people, gates, clocks)
@settings(max_examples=40)
def test_a_stopwatch_widens_the_band(person: tuple[float, float], at: tuple[float, ...], clock: str) -> None:
    by_hand, by_gates = (free(run(person, at, clock=clock, by=by)) for by in ("hand", "gates"))
    assert all(by_hand(distance) > by_gates(distance) for distance in DISTANCES)


@given(people, gates, st.sampled_from(("movement", "behind")), st.sampled_from(("gates", "hand")))
@settings(max_examples=40)
def test_a_clock_that_nobody_knows_never_narrows_the_band(
    person: tuple[float, float], at: tuple[float, ...], clock: str, by: str
) -> None:
    unknown, known = (free(run(person, at, clock=start, by=by)) for start in ("unknown", clock))
    assert grows(unknown, known)


@given(people, st.floats(0.31, 0.45), st.floats(0.01, 0.05), st.floats(0.02, 0.1))
@settings(max_examples=40)
def test_a_friction_known_less_well_widens_the_band(
    person: tuple[float, float], middle: float, near: float, more: float
) -> None:
    timed = run(person, GATES, clock="movement")
    narrow = towed(timed, low=middle - near, high=middle + near)
    wide = towed(timed, low=middle - near - more, high=middle + near + more)
    assert all(wide(distance) > narrow(distance) for distance in DISTANCES)
