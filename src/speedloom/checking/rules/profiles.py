"""T2, X15, X16: expected times by the athlete's own timing, bands narrow enough, tests fresh enough."""

from __future__ import annotations

from collections.abc import Iterator

from speedloom.checking.finding import Finding
from speedloom.checking.people import Person
from speedloom.checking.scene import Scene, at


def timing_methods(scene: Scene) -> Iterator[Finding]:
    """Find expected times that are not by the timing and clock of the athlete's own test."""
    for visit, work in scene.lines:
        own = _clocks(work.person)
        if work.line.run == "top_speed":
            # Through a zone between two beams no start counts, only the timing method.
            own |= {f"{trial.timing}/flying" for trial in work.person.trials}
            own |= {f"{trace.timing}/flying" for trace in work.person.traces}
        clock = work.line.expect.clock if work.line.expect else None
        if clock is not None and own and clock not in own:
            yield scene.breach(
                "timing_methods", visit=visit, line=work.line, value=clock, limit=" ".join(sorted(own))
            )


def _clocks(person: Person) -> set[str]:
    """Name the timing, the clock and the metres behind of the athlete's tests, as `expect.clock` does.

    A speed trace counts from the first movement: its start is found in the trace itself.
    """
    return {f"{trace.timing}/movement" for trace in person.traces} | {
        "/".join([trial.timing, trial.clock, *([f"{trial.behind_m:g}"] if trial.behind_m else [])])
        for trial in person.trials
    }


def band_width(scene: Scene) -> Iterator[Finding]:
    """Find expected times whose band is too wide to prescribe by."""
    widest = scene.number("band_width", "width")
    for visit, work in scene.lines:
        expect = work.line.expect
        if expect is None or expect.time_s <= 0.0:
            continue
        width = (expect.high - expect.low) / expect.time_s
        if width > widest:
            yield scene.breach("band_width", "width", visit=visit, line=work.line, value=width)


def profile_age(scene: Scene) -> Iterator[Finding]:
    """Find profiles that were old when the programme began; once an athlete."""
    for person in scene.people:
        visits = scene.visits_of[person.ref]
        frozen = scene.programme.revision.frozen_until
        ahead = [visit for visit in visits if frozen is None or visit.day > frozen]
        days_tested = [trial.date for trial in person.trials] + [trace.date for trace in person.traces]
        tested = max(days_tested, default=None)
        if tested is None or not ahead:
            continue
        days = float((ahead[0].day - tested).days)
        if days > scene.number("profile_age", "days"):
            yield at(scene.breach("profile_age", "days", value=days), person)
