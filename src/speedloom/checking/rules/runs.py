"""S1 to S6: how long, how much, how fast. A run is judged by its parts, up to and beyond the 95 % point."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from speedloom.checking.finding import Finding
from speedloom.checking.full_weeks import lower_ends_hold
from speedloom.checking.line import Work
from speedloom.checking.scene import Scene, Visit

_NEARLY = 1e-6


def acceleration_runs(scene: Scene) -> Iterator[Finding]:
    """Find acceleration runs outside the length, the metres a session or the rest of the rule."""
    rule = "acceleration_runs"
    for visit in scene.visits:
        runs = [work for work in visit.work if work.is_run and work.line.run == "acceleration"]
        # A longer one is another rule's: long_standing_run, then sprint_endurance.
        yield from _rest_too_long(scene, rule, visit, runs)
        up = sum(work.metres_up for work in visit.work if work.line.run != "submaximal")
        if up > scene.number(rule, "session_high_m") + _NEARLY:
            yield scene.breach(rule, "session_high_m", visit=visit, value=up)
        if runs and lower_ends_hold(scene, visit):
            yield from _below(scene, rule, visit, runs, total=up)


def top_speed_runs(scene: Scene) -> Iterator[Finding]:
    """Find top-speed runs outside the zone, the run-in, the metres a session or the rest of the rule."""
    rule = "top_speed_runs"
    for visit in scene.visits:
        runs = [work for work in visit.work if work.is_run and _top_speed(work)]
        for work in runs:
            yield from _above(
                scene,
                rule,
                visit,
                work,
                {"zone_high_m": work.line.distance_m, "run_in_high_m": work.line.run_in_m},
            )
        yield from _rest_too_long(scene, rule, visit, runs)
        beyond = sum(work.metres_beyond for work in visit.work if work.is_run and not _longer(scene, work))
        if beyond > scene.number(rule, "session_high_m") + _NEARLY:
            yield scene.breach(rule, "session_high_m", visit=visit, value=beyond)
        if runs and lower_ends_hold(scene, visit):
            yield from _below(scene, rule, visit, runs, total=beyond)


def _top_speed(work: Work) -> bool:
    return work.line.run == "top_speed" and work.line.exercise != "assisted_sprint"


def _longer(scene: Scene, work: Work) -> bool:
    """Say whether a run belongs to the endurance rules, which have metres of their own."""
    return work.run_m > scene.number("sprint_endurance", "distance_low_m") or work.line.run == "submaximal"


def long_standing_run(scene: Scene) -> Iterator[Finding]:
    """Find maximal runs of 50 to 80 m from standing without the level or the rest for them."""
    rule = "long_standing_run"
    low, high = scene.number(rule, "distance_low_m"), scene.number(rule, "distance_high_m")
    for visit, work in scene.lines:
        if work.line.run != "acceleration" or not work.is_maximal or not low < work.run_m <= high:
            continue
        rest = scene.number(rule, "rest_s_per_10_m") * work.run_m / 10
        if work.person.level("unloaded_sprint") != "advanced":
            yield scene.breach(rule, "distance_low_m", visit=visit, line=work.line, value=work.run_m)
        elif work.line.reps > 1 and (work.line.rest_reps_s or 0) < rest:
            given = float(work.line.rest_reps_s or 0)
            yield scene.breach(
                rule, "rest_s_per_10_m", visit=visit, line=work.line, value=given, limit=rest, unit="s"
            )


def sprint_endurance(scene: Scene) -> Iterator[Finding]:
    """Find fast runs beyond 80 m that are too long, too many, or rested too shortly."""
    rule = "sprint_endurance"
    low, effort = scene.number(rule, "distance_low_m"), scene.number(rule, "effort_low")

    def belongs(work: Work) -> bool:
        return work.is_run and work.run_m > low and work.effort >= effort

    yield from _long_runs(scene, rule, belongs)


def speed_endurance(scene: Scene) -> Iterator[Finding]:
    """Find runs of 60 m and more at 90 to 95 % that are too long, too many, or rested too shortly."""
    rule = "speed_endurance"
    low, slow, fast = (scene.number(rule, name) for name in ("distance_low_m", "effort_low", "effort_high"))

    def belongs(work: Work) -> bool:
        return work.is_run and work.run_m >= low and slow <= work.effort < fast

    yield from _long_runs(scene, rule, belongs)
    for visit, work in scene.lines:
        if belongs(work) and work.line.sets > 1:
            yield from _set_rest(scene, rule, visit, work)


def _set_rest(scene: Scene, rule: str, visit: Visit, work: Work) -> Iterator[Finding]:
    rest = work.line.rest_s
    if rest is None:
        return
    if rest < scene.number(rule, "set_rest_low_s"):
        yield scene.breach(rule, "set_rest_low_s", visit=visit, line=work.line, value=float(rest))
    elif rest > scene.number(rule, "set_rest_high_s"):
        yield scene.breach(rule, "set_rest_high_s", visit=visit, line=work.line, value=float(rest))


def tempo_runs(scene: Scene) -> Iterator[Finding]:
    """Find tempo runs that are too long, too fast, too many, or rested too shortly."""
    rule = "tempo_runs"
    yield from _long_runs(scene, rule, _tempo)
    for visit, work in scene.lines:
        if _tempo(work):
            yield from _above(scene, rule, visit, work, {"effort_high": work.line.effort})


def _tempo(work: Work) -> bool:
    return work.is_run and work.line.exercise == "tempo_run"


def _long_runs(scene: Scene, rule: str, belongs: Callable[[Work], bool]) -> Iterator[Finding]:
    for visit in scene.visits:
        runs = [work for work in visit.work if belongs(work)]
        for work in runs:
            yield from _above(scene, rule, visit, work, {"distance_high_m": work.run_m})
            yield from _rest_too_short(scene, rule, visit, work)
        yield from _rest_too_long(scene, rule, visit, runs)
        total = sum(work.repetitions * work.run_m for work in runs)
        if total > scene.number(rule, "session_high_m"):
            yield scene.breach(rule, "session_high_m", visit=visit, value=total)


def assisted_sprint(scene: Scene) -> Iterator[Finding]:
    """Find assisted sprints that are too fast, too long, too many, or rested too shortly."""
    rule = "assisted_sprint"
    for visit in scene.visits:
        runs = [work for work in visit.work if work.line.exercise == "assisted_sprint"]
        for work in runs:
            limits = {"zone_high_m": work.line.distance_m, "run_in_high_m": work.line.run_in_m}
            yield from _above(scene, rule, visit, work, limits | {"speed_share": _assisted_share(work)})
            yield from _rest_too_short(scene, rule, visit, work)
        total = sum(work.metres for work in runs)
        if total > scene.number(rule, "session_high_m"):
            yield scene.breach(rule, "session_high_m", visit=visit, value=total)


def _assisted_share(work: Work) -> float | None:
    """Speed through the zone by the expected time, as a share of the athlete's own top speed."""
    expect, vmax = work.line.expect, work.person.vmax_mps
    if expect is None or vmax is None or expect.time_s <= 0.0:
        return None
    return (work.line.distance_m or 0.0) / expect.time_s / vmax


def _above(
    scene: Scene, rule: str, visit: Visit, work: Work, values: dict[str, float | None]
) -> Iterator[Finding]:
    for number, value in values.items():
        if value is not None and value > scene.number(rule, number) + _NEARLY:
            yield scene.breach(rule, number, visit=visit, line=work.line, value=value)


def _rest_too_long(scene: Scene, rule: str, visit: Visit, runs: list[Work]) -> Iterator[Finding]:
    for work in runs:
        rest = work.line.rest_reps_s
        if rest is not None and rest > scene.number(rule, "rest_high_s"):
            yield scene.breach(rule, "rest_high_s", visit=visit, line=work.line, value=float(rest))


def _rest_too_short(scene: Scene, rule: str, visit: Visit, work: Work) -> Iterator[Finding]:
    rest = work.line.rest_reps_s
    if rest is not None and work.line.reps > 1 and rest < scene.number(rule, "rest_low_s"):
        yield scene.breach(rule, "rest_low_s", visit=visit, line=work.line, value=float(rest))


def _below(scene: Scene, rule: str, visit: Visit, runs: list[Work], *, total: float) -> Iterator[Finding]:
    """Find what lies under the lower ends, which are advice for sprinters in a full loading week."""
    lengths = "zone_low_m" if rule == "top_speed_runs" else "distance_low_m"
    for work in runs:
        lows: dict[str, float | None] = {
            lengths: work.line.distance_m,
            "rest_low_s": work.line.rest_reps_s,
            "effort_low": work.effort,
        }
        if rule == "top_speed_runs":
            lows["run_in_low_m"] = work.line.run_in_m
        for number, value in lows.items():
            if value is not None and value < scene.number(rule, number) - _NEARLY:
                yield scene.breach(rule, number, visit=visit, line=work.line, value=float(value))
    if total < scene.number(rule, "session_low_m") - _NEARLY:
        yield scene.breach(rule, "session_low_m", visit=visit, value=total)
