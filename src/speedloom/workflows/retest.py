"""Test and retest: what changed for each athlete, and the chance that it is real."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

import numpy as np

from speedloom.science.constants import BAND_90_SD
from speedloom.science.statistics.change import ChangeChances, change_verdict
from speedloom.science.statistics.squad_change import SquadChange, lone_chances, squad_change
from speedloom.training.measurement import Measurements
from speedloom.training.profile import Profile
from speedloom.training.rule import Rulebook
from speedloom.workflows.profile_surroundings import Person
from speedloom.workflows.retest_errors import (
    GivenError,
    Smallest,
    TypicalError,
    smallest_worthwhile,
    typical_error,
)
from speedloom.workflows.retest_fits import DayCurve, fitted_values
from speedloom.workflows.retest_pairs import LeftOut, Pair, pairs
from speedloom.workflows.retest_values import DayValue, Measure, Refused, Setting, plain_values
from speedloom.workflows.sprint_runs import TrialRule

Verdict = Literal["better", "worse", "trivial", "unclear", "not_judged"]
Sport = Literal["team", "solo"]


@dataclass(frozen=True)
class Change:
    """What changed in one measure of one athlete; all in the measure's unit, after minus before.

    `raw` is as measured; `difference` has the head start of more trials in one of the tests taken out;
    `drawn` is the difference drawn to the squad's, or the difference itself where there is no squad.
    `error_sd` and `drawn_sd` are their errors. Chances are None where no typical error is known.
    """

    athlete: str
    before: DayValue
    after: DayValue
    difference: float
    error_sd: float | None
    drawn: float | None
    drawn_sd: float | None
    better: float | None
    trivial: float | None
    worse: float | None
    verdict: Verdict

    @property
    def raw(self) -> float:
        """The difference of the two values as measured."""
        return self.after.value - self.before.value

    @property
    def chance(self) -> float | None:
        """The chance that belongs to the verdict; of the likeliest side where it is too close to call."""
        named = {"better": self.better, "worse": self.worse, "trivial": self.trivial}
        if self.verdict in named:
            return named[self.verdict]
        return max((one for one in named.values() if one is not None), default=None)


@dataclass(frozen=True)
class Squad:
    """The squad's mean change, after minus before, its error, and the true spread between athletes [unit]."""

    mean: float
    mean_sd: float
    spread: float


@dataclass(frozen=True)
class Panel:
    """One measure tested in one way: its error, the smallest worthwhile change, and everybody's change."""

    measure: Measure
    setting: Setting
    error: TypicalError | None
    smallest: Smallest | None
    squad: Squad | None
    changes: tuple[Change, ...]


@dataclass(frozen=True)
class BeforeAfter:
    """An athlete's two curves."""

    athlete: str
    before: Profile
    after: Profile


@dataclass(frozen=True)
class Fewest:
    """From how many on the squad's own numbers are used: repeats of a test, and athletes."""

    repeats: int
    for_spread: int
    for_squad: int


@dataclass(frozen=True)
class Retest:
    """All that two tests say, athlete by athlete and measure by measure."""

    trial_rule: TrialRule
    sport: Sport
    likely: float
    unlikely: float
    fewest: Fewest
    usual_changes: float
    panels: tuple[Panel, ...]
    left_out: tuple[LeftOut, ...]
    refused: tuple[Refused, ...]
    curves: tuple[BeforeAfter, ...]

    @property
    def athletes(self) -> tuple[str, ...]:
        """Everybody with something to compare."""
        return tuple(sorted({one.athlete for panel in self.panels for one in panel.changes}))

    def of_athlete(self, ref: str) -> tuple[tuple[Panel, Change], ...]:
        """Give an athlete's changes, each with its panel."""
        return tuple(
            (panel, change) for panel in self.panels for change in panel.changes if change.athlete == ref
        )

    def days(self, ref: str) -> tuple[date, date]:
        """Give an athlete's first and last day that are compared."""
        own = [change for _, change in self.of_athlete(ref)]
        return min(one.before.date for one in own), max(one.after.date for one in own)

    def curve(self, ref: str) -> BeforeAfter | None:
        """Give an athlete's two curves, where both could be fitted."""
        return next((one for one in self.curves if one.athlete == ref), None)


def retest(
    measurements: Measurements,
    *,
    trial_rule: TrialRule,
    rulebook: Rulebook,
    people: Mapping[str, Person],
    since: date | None = None,
    until: date | None = None,
    sport: Sport = "team",
    given: Mapping[str, GivenError] | None = None,
) -> Retest:
    """Compare each athlete's first test with the last, measure by measure.

    `given` holds typical errors and smallest worthwhile changes a coach knows, by the measure's ref. Times
    and jumps are a day's best or mean by `trial_rule`; top speed and start force rest on the mean of a
    day's trials. Verdicts by rule T1 (`change_call`), and "better" or "worse" only where the athlete's own
    difference is worthwhile too: the squad's news alone is nobody's own. Different ways of testing are never
    compared (T2).
    """
    plain, refused = plain_values(measurements, rule=trial_rule)
    fitted, curves = fitted_values(measurements.trials, rulebook=rulebook, people=people)
    days = (*plain, *fitted)
    found, left_out = pairs(days, since=since, until=until)
    known = given or {}
    panels = [
        _panel(
            measure,
            setting,
            [pair for pair in found if (pair.before.measure, pair.before.setting) == (measure, setting)],
            [day for day in days if (day.measure, day.setting) == (measure, setting)],
            _Book(rulebook, people, known.get(measure.ref, GivenError()), sport),
        )
        for measure, setting in sorted(
            {(pair.before.measure, pair.before.setting) for pair in found},
            key=lambda one: (one[0].place, one[1]),
        )
    ]
    return Retest(
        trial_rule=trial_rule,
        sport=sport,
        likely=rulebook.number("change_call", "benefit"),
        unlikely=rulebook.number("change_call", "harm"),
        fewest=_fewest(rulebook),
        usual_changes=rulebook.number("retest", "usual_changes"),
        panels=tuple(panels),
        left_out=left_out,
        refused=refused,
        curves=tuple(_curves(found, curves, panels)),
    )


def _fewest(rulebook: Rulebook) -> Fewest:
    names = ("repeats_fewest", "spread_fewest", "squad_fewest")
    return Fewest(*(int(rulebook.number("retest", name)) for name in names))


@dataclass(frozen=True)
class _Book:
    rulebook: Rulebook
    people: Mapping[str, Person]
    given: GivenError
    sport: Sport


def _panel(
    measure: Measure, setting: Setting, found: Sequence[Pair], days: Sequence[DayValue], book: _Book
) -> Panel:
    ordered = sorted(found, key=lambda one: one.before.athlete)
    error = typical_error(measure, setting, days, rulebook=book.rulebook, given=book.given)
    if error is None:
        return Panel(measure, setting, None, None, None, tuple(_unjudged(pair) for pair in ordered))
    smallest = smallest_worthwhile(
        ordered, error=error, people=book.people, given=book.given, solo=book.sport, rulebook=book.rulebook
    )
    gains = np.array([measure.sign * _difference(pair, error) for pair in ordered])
    errors = np.array([_error_sd(pair, error) for pair in ordered])
    enough = len(ordered) >= book.rulebook.number("retest", "squad_fewest")
    usual = book.rulebook.number("retest", "usual_changes") * smallest.value
    squad = _squad(gains, errors, smallest, error, usual=usual) if enough else None
    chances = squad.chances if squad else lone_chances(
        gains, error_sd=errors, smallest_worthwhile=smallest.value, freedom=error.freedom
    )  # fmt: skip
    drawn, drawn_sd = (squad.gain, squad.sd) if squad else (gains, errors)
    verdicts = change_verdict(
        chances,
        likely=book.rulebook.number("change_call", "benefit"),
        unlikely=book.rulebook.number("change_call", "harm"),
    )
    changes = tuple(
        _judged(
            pair, chances, at,
            verdict=_own(str(verdicts[at]), float(gains[at]), smallest.value),
            difference=measure.sign * float(gains[at]),
            error_sd=float(errors[at]), drawn=measure.sign * float(drawn[at]), drawn_sd=float(drawn_sd[at]),
        )
        for at, pair in enumerate(ordered)
    )  # fmt: skip
    whole = Squad(measure.sign * squad.squad_mean, squad.squad_sd, squad.spread) if squad else None
    return Panel(measure, setting, error, smallest, whole, changes)


def _squad(
    gains: np.ndarray, errors: np.ndarray, smallest: Smallest, error: TypicalError, *, usual: float
) -> SquadChange:
    # A smallest change made from the error says nothing of how far squads change.
    scale = usual if smallest.how in {"squad_spread", "given"} else max(usual, float(errors.mean()))
    return squad_change(
        gains, error_sds=errors, smallest_worthwhile=smallest.value, scale=scale, freedom=error.freedom
    )


def _difference(pair: Pair, error: TypicalError) -> float:
    """Give after minus before, as if both tests had had equally many trials."""
    luck = pair.after.head_start - pair.before.head_start if error.of == "trial" else 0.0
    return pair.after.value - pair.before.value - pair.before.measure.sign * luck * error.value


def _error_sd(pair: Pair, error: TypicalError) -> float:
    before, after = pair.before, pair.after
    # Two sets of equally many repetitions share the formula's error; it is gone from their difference.
    formulas = (before, after) if before.to_failure != after.to_failure else ()
    return math.hypot(error.at(before), error.at(after), *(one.formula_sd for one in formulas))


def _own(verdict: str, gain: float, smallest: float) -> Verdict:
    """Keep "better" and "worse" for those whose own difference says so; a choice by data alone is fair."""
    words: dict[str, Verdict] = {"trivial": "trivial"}
    if gain >= smallest:
        words["better"] = "better"
    if gain <= -smallest:
        words["worse"] = "worse"
    return words.get(verdict, "unclear")


def _unjudged(pair: Pair) -> Change:
    difference = pair.after.value - pair.before.value
    return Change(
        pair.before.athlete, pair.before, pair.after, difference, None, None, None, None, None, None,
        "not_judged",
    )  # fmt: skip


def _judged(
    pair: Pair,
    chances: ChangeChances,
    at: int,
    *,
    verdict: Verdict,
    difference: float,
    error_sd: float,
    drawn: float,
    drawn_sd: float,
) -> Change:
    return Change(
        athlete=pair.before.athlete,
        before=pair.before,
        after=pair.after,
        difference=difference,
        error_sd=error_sd,
        drawn=drawn,
        drawn_sd=drawn_sd,
        better=float(chances.better[at]),
        trivial=float(chances.trivial[at]),
        worse=float(chances.worse[at]),
        verdict=verdict,
    )


def _curves(
    found: Iterable[Pair], curves: Sequence[DayCurve], panels: Sequence[Panel]
) -> Iterable[BeforeAfter]:
    errors = {
        (one.athlete, one.date): panel.error.at(one)
        for panel in panels
        if panel.measure.kind == "vmax" and panel.error is not None
        for change in panel.changes
        for one in (change.before, change.after)
    }
    by_day = {(one.athlete, one.date, one.setting): one.profile for one in curves}
    seen: set[str] = set()
    for pair in sorted(found, key=lambda one: (one.before.athlete, -len(one.after.trials))):
        athlete, setting = pair.before.athlete, pair.before.setting
        before = by_day.get((athlete, pair.before.date, setting))
        after = by_day.get((athlete, pair.after.date, setting))
        drawable = before and after and before.vmax_mps and after.vmax_mps
        if athlete not in seen and before and after and drawable:
            seen.add(athlete)
            yield BeforeAfter(athlete, *(_with_error(one, errors) for one in (before, after)))


def _with_error(profile: Profile, errors: Mapping[tuple[str, date], float]) -> Profile:
    """Widen the band of top speed to what repeats scatter by; the noise of gates alone is too little."""
    vmax, error = profile.vmax_mps, errors.get((profile.athlete, profile.date))
    if vmax is None or error is None:
        return profile
    reach = BAND_90_SD * error
    wide = vmax.model_copy(
        update={"low": min(vmax.low, vmax.value - reach), "high": max(vmax.high, vmax.value + reach)}
    )
    return profile.model_copy(update={"vmax_mps": wide})
