"""What an athlete reads of a test and retest: what changed and how sure that is; never why, no promise."""

from __future__ import annotations

from dataclasses import dataclass

from speedloom.training.exercise import Catalogue
from speedloom.wording.athlete_retest_left_out import own_left_out
from speedloom.wording.athlete_retest_other import notes, other_way
from speedloom.wording.athlete_retest_values import chance_text, measure_name, value_text, verdict_text
from speedloom.wording.dates import full_date
from speedloom.wording.units import METRIC, Units, length, number
from speedloom.workflows.done_between import DoneBetween
from speedloom.workflows.retest import Change, Panel, Retest
from speedloom.workflows.retest_values import Measure

MEANINGS = {
    "better": "More than the usual scatter of the test: likely a real step.",
    "worse": "Below the first test by more than the usual scatter. One test is one day.",
    "trivial": "About as before: if something changed, it is too small to count.",
    "unclear": "The change is about as large as the scatter of the test: it cannot be told yet.",
    "not_judged": "How much this test scatters is not known, so nothing is said about the change.",
}
CURVE_NOTE = (
    "Your speed over the distance: dashed the first test, drawn through the last. The shaded band around "
    "each shows how surely it is known: the narrower, the surer."
)
NO_LOG = "What was done in between was not written down here."
ONE_DAY = (
    "Good and bad days come on top and may not be in the chance. The page says what changed, not why. "
    "Ask your coach what it means for the next weeks."
)


@dataclass(frozen=True)
class OwnRow:
    """One measure: both values and what can be said."""

    what: str
    first: str
    now: str
    said: str
    likely: bool


@dataclass(frozen=True)
class OwnRetestWords:
    """An athlete's page in words."""

    title: str
    days: str
    headline: str
    meaning: str
    rows: tuple[OwnRow, ...]
    left_out: tuple[str, ...]
    reading: tuple[str, ...]
    done: str
    other_way: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def own_retest_words(
    found: Retest,
    athlete: str,
    *,
    name: str,
    catalogue: Catalogue,
    goal_m: float | None = None,
    done: DoneBetween | None = None,
    units: Units = METRIC,
) -> OwnRetestWords:
    """Write an athlete's page; it begins with the distance the goal is about, else the longest timed."""
    own = found.of_athlete(athlete)
    first, last = found.days(athlete)
    panel, change = _main(own, goal_m)
    return OwnRetestWords(
        title=name,
        days=f"Your tests of {full_date(first)} and {full_date(last)}",
        headline=_headline(panel.measure, change, catalogue=catalogue, units=units),
        meaning=MEANINGS[change.verdict],
        rows=tuple(_row(one, other, catalogue=catalogue, units=units) for one, other in own),
        left_out=own_left_out(found, athlete, catalogue=catalogue),
        reading=tuple(_reading(panel, change, squad_from=found.fewest.for_squad, units=units)),
        done=done_text(done, units=units),
        other_way=other_way(own, (panel, change), catalogue=catalogue, units=units),
        notes=notes(own),
    )


def done_text(done: DoneBetween | None, *, units: Units = METRIC) -> str:
    """Say what was written down between the tests."""
    if done is None:
        return NO_LOG
    extras = f", and extra training on {done.extras} {_days(done.extras)}" if done.extras else ""
    run = length(done.metres, units=units)
    return (
        f"Written down in between: {done.sessions} of {done.planned} planned sessions{extras}; "
        f"{run} of running in sets and {number(done.sets)} sets of strength and power work."
    )


def done_short(done: DoneBetween, *, units: Units = METRIC) -> str:
    """Say the same in few words, for a table."""
    run = length(done.metres, units=units)
    parts = (f"{done.sessions} of {done.planned} sessions", run, f"{number(done.sets)} sets")
    return ", ".join(part.replace(" ", "\N{NO-BREAK SPACE}") for part in parts)


def _days(count: int) -> str:
    return "day" if count == 1 else "days"


def _main(own: tuple[tuple[Panel, Change], ...], goal_m: float | None) -> tuple[Panel, Change]:
    def place(one: tuple[Panel, Change]) -> tuple[bool, float]:
        distance = one[0].measure.distance_m
        return (distance is not None and distance == goal_m, distance or 0.0)

    return max(own, key=place)


def _headline(measure: Measure, change: Change, *, catalogue: Catalogue, units: Units) -> str:
    before, after = (value_text(measure, one.value, units=units) for one in (change.before, change.after))
    what = measure_name(measure, catalogue=catalogue, units=units)
    return f"{what}: {before}, then {after}. {_capital(verdict_text(measure, change))}."


def _row(panel: Panel, change: Change, *, catalogue: Catalogue, units: Units) -> OwnRow:
    measure = panel.measure
    return OwnRow(
        what=measure_name(measure, catalogue=catalogue, units=units),
        first=value_text(measure, change.before.value, units=units),
        now=value_text(measure, change.after.value, units=units),
        said=_capital(verdict_text(measure, change)),
        likely=change.verdict in {"better", "worse"},
    )


def _reading(panel: Panel, change: Change, *, squad_from: int, units: Units) -> list[str]:
    if panel.error is None or panel.smallest is None or change.error_sd is None:
        return [ONE_DAY]
    what = "run" if panel.measure.distance_m else "test"
    scatter = value_text(panel.measure, change.error_sd, units=units, finer=True)
    counts = value_text(panel.measure, panel.smallest.value, units=units, finer=True)
    noise = (
        f"No two tests are quite alike. With no change in you, the two results of this {what} still differ "
        f"by about {scatter}, up or down. Here a change counts "
        f"from {counts} on."
    )
    chance = (
        "The number in per cent says how likely it is that the change is real and large enough to count. "
        f"Of ten sentences with {chance_text(0.9)}, one is wrong."
    )
    alone = f"With fewer than {squad_from} athletes tested, your change is read by itself, luck and all."
    together = (
        "A very large change is often partly luck, good or bad. That is why your change is read together "
        f"with those of all {len(panel.changes)} athletes who were tested."
    )
    return [noise, chance, alone if panel.squad is None else together, ONE_DAY]


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
