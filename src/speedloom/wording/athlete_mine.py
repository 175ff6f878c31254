"""What an athlete reads on their own page: scales with both ends in words, nothing added up or compared."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from speedloom.training.exercise import Catalogue
from speedloom.training.log import LogEntry, Result
from speedloom.wording.dates import listing
from speedloom.wording.names import exercise_name
from speedloom.wording.units import METRIC, Units, length, mass, number


@dataclass(frozen=True)
class Scale:
    """One question with both ends of its five answers in words."""

    name: str
    asks: str
    low: str
    high: str
    short: str
    """Over a column of answers: what 5 is the good end of."""


SCALES = (
    Scale("fatigue", "How fresh are you?", "worn out", "fresh", "freshness"),
    Scale("sleep", "How did you sleep?", "badly", "very well", "sleep"),
    Scale("soreness", "Are you sore?", "very sore", "not sore", "no soreness"),
    Scale("stress", "How calm are you?", "very stressed", "very relaxed", "calm"),
    Scale("mood", "How is your mood?", "low", "very good", "mood"),
)
SCALES_HELP = (
    "Five answers, or none: skipping a day is fine. 5 is always the good end. Your coaches read the answers; "
    "the program adds nothing up and changes nothing by itself."
)
EFFORT_ASKS = "How hard was it, all in all? 0 to 10"
EFFORT_HELP = (
    "0 is rest, 3 moderate, 5 hard, 7 very hard, 10 the hardest you know. "
    "Best about half an hour after the end."
)
MINUTES_ASKS = "Minutes, warm-up included"
NOTE_ASKS = "In your own words"
NOTE_HELP = "Kept with this day. Your coaches and the clinician read it; other athletes do not."
DAY_NOTE_ASKS = "Something to say about today"
DAY_NOTE_HELP = (
    "On a day of rest as well: what you did, how it went. Kept with today's date. Your coaches, their "
    "assistants and the clinician read it; other athletes do not."
)
REST_DAY = "No training is planned for you today."
NO_PROGRAMME = (
    "You are in no programme yet. When your coach has made one, your sessions stand here, day by day."
)
NO_TESTS = "No test of yours is stored yet. After the first one your results stand here with their error."
NOTHING_WRITTEN = "Nothing is written down yet. After a session you write your own results here."
LIMIT_BEYOND = "This is above a limit that holds for you now. Ask your coach before you do it."
STOPPED_LINE = "Not now: everything is stopped for you."
STOPPED_HELP = (
    "Nothing below is for you to train now. Talk to your coach; if it gets worse, go to a professional."
)
HURTS_HELP = (
    "Stop now. This writes down that you stopped, and your coach and the clinician see it at once. "
    "Sharp or sudden pain, dizziness, chest symptoms or a head knock: get help here, now."
)
_STATUS: Mapping[str, str] = {
    "done": "",
    "modified": "changed",
    "skipped": "left out",
    "stopped": "stopped",
    "absent": "not there",
    "extra": "extra",
}
_WHOLE = "Whole session"


@dataclass(frozen=True)
class WrittenWords:
    """One entry of an athlete's own log in words."""

    what: str
    said: str
    note: str


def written_words(entry: LogEntry, *, catalogue: Catalogue, units: Units = METRIC) -> WrittenWords:
    """Put an entry into words: what it is about, what was done, and the note."""
    what = exercise_name(entry.exercise, catalogue=catalogue) if entry.exercise else _WHOLE
    effort = f"effort {number(entry.effort)} of 10" if entry.effort is not None else ""
    minutes = f"{number(entry.minutes)} min" if entry.minutes is not None else ""
    status = _STATUS[entry.status]
    reason = f"({entry.reason})" if entry.reason else ""
    parts = (" ".join(filter(None, (status, reason))), *_results(entry.results, units=units), effort, minutes)
    return WrittenWords(what, ", ".join(filter(None, parts)) or "done", entry.note)


def _results(results: Iterable[Result], *, units: Units) -> tuple[str, ...]:
    """Write results, those of one distance and load together."""
    times: dict[tuple[float | None, float | None], list[str]] = {}
    sets: dict[float | None, list[int]] = {}
    for one in results:
        if one.time_s is not None:
            times.setdefault((one.distance_m, one.load_kg), []).append(f"{one.time_s:.2f}")
        elif one.reps is not None:
            sets.setdefault(one.load_kg, []).append(one.reps)
    runs = (_runs(far, load, those, units=units) for (far, load), those in times.items())
    lifts = (_lifts(load, those, units=units) for load, those in sets.items())
    return (*runs, *lifts)


def _runs(far: float | None, load: float | None, times: Iterable[str], *, units: Units) -> str:
    distance = f"{length(far, units=units)} in " if far else ""
    pulled = f" with {mass(load, units=units)}" if load else ""
    return f"{distance}{listing(times)} s{pulled}"


def _lifts(load: float | None, reps: list[int], *, units: Units) -> str:
    moved = f" with {mass(load, units=units)}" if load else ""
    alike = len(set(reps)) == 1
    return f"{len(reps)} × {reps[0]}{moved}" if alike else f"{listing(map(str, reps))} repetitions{moved}"
