"""The squad's table: a row an athlete with tests, limits, week and what was done; sorted and filtered."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from speedloom.report.sheets.restrictions import limit_text
from speedloom.store.cards import AthleteCard, RestrictionCard
from speedloom.training.exercise import Catalogue
from speedloom.training.measurement import Measurements
from speedloom.training.profile import Profile
from speedloom.training.rule import Rulebook
from speedloom.web.pages.squad.numbers import NumberShown, estimate_shown
from speedloom.web.pages.squad.weeks import DoneShown, Standing
from speedloom.wording.units import Units
from speedloom.workflows.retest_errors import GivenError, typical_error
from speedloom.workflows.retest_values import plain_values
from speedloom.workflows.sprint_runs import TrialRule

SORTS = ("name", "top_speed", "time", "tested")
FILTERS = ("all", "restricted", "untested", "no_programme")


@dataclass(frozen=True)
class RowShown:
    """One athlete's row."""

    card: AthleteCard
    age: int | None
    tested: date | None
    time: NumberShown | None
    time_s: float | None
    limits: tuple[str, ...]
    standing: Standing | None
    done: DoneShown | None
    vmax: NumberShown | None = None
    vmax_mps: float | None = None


@dataclass(frozen=True)
class Known:
    """All that is known of the squad's athletes, by their refs."""

    tested: Measurements
    limits: Mapping[str, tuple[str, ...]]
    standing: Mapping[str, Standing]
    done: Mapping[str, DoneShown]


def distances(tested: Measurements) -> tuple[float, ...]:
    """Give the distances that were timed, nearest first [m]."""
    return tuple(sorted({split.distance_m for trial in tested.trials for split in trial.splits}))


def best_times(
    tested: Measurements, *, distance_m: float, rule: TrialRule, rulebook: Rulebook
) -> dict[str, tuple[float, NumberShown]]:
    """Give each athlete's time over a distance with its typical error [s]."""
    values, _refused = plain_values(Measurements(trials=tested.trials), rule=rule)
    found: dict[str, tuple[float, NumberShown]] = {}
    days = [one for one in values if one.measure.distance_m == distance_m]
    for day in sorted(days, key=lambda one: (one.date, -one.value)):
        alike = [one for one in days if one.setting == day.setting]
        error = typical_error(day.measure, day.setting, alike, rulebook=rulebook, given=GivenError())
        band = f"± {error.at(day):.2f}" if error else ""
        found[day.athlete] = (day.value, NumberShown(f"{day.value:.2f}", band, "s", partly_usual=False))
    return found


def limits_by_athlete(
    cards: Sequence[RestrictionCard], *, on: date, catalogue: Catalogue, units: Units
) -> dict[str, tuple[str, ...]]:
    """Write the limits in force on a day, by athlete."""
    found: dict[str, dict[str, None]] = {}
    for card in cards:
        if card.restriction.holds(on):
            texts = found.setdefault(card.athlete, {})
            for limit in card.restriction.limits:
                texts[limit_text(limit, catalogue=catalogue, units=units)] = None
    return {ref: tuple(texts) for ref, texts in found.items()}


def rows_of(
    cards: Sequence[AthleteCard], known: Known, times: Mapping[str, tuple[float, NumberShown]], *, today: date
) -> tuple[RowShown, ...]:
    """Put everything into rows; top speed waits until it is fitted."""
    last: dict[str, date] = {}
    for trial in known.tested.trials:
        last[trial.athlete] = max(last.get(trial.athlete, trial.date), trial.date)
    return tuple(
        RowShown(
            card=card,
            age=card.athlete.age_years(today),
            tested=last.get(card.ref),
            time=times[card.ref][1] if card.ref in times else None,
            time_s=times[card.ref][0] if card.ref in times else None,
            limits=known.limits.get(card.ref, ()),
            standing=known.standing.get(card.ref),
            done=known.done.get(card.ref),
        )
        for card in cards
    )


def filtered(rows: Sequence[RowShown], *, show: str, name: str) -> tuple[RowShown, ...]:
    """Keep those who are asked for."""
    tests: dict[str, Callable[[RowShown], bool]] = {
        "restricted": lambda row: bool(row.limits),
        "untested": lambda row: row.tested is None,
        "no_programme": lambda row: row.standing is None,
    }
    keep = tests.get(show)
    wanted = name.casefold().strip()
    return tuple(row for row in rows if (keep is None or keep(row)) and wanted in row.card.name.casefold())


def with_speeds(rows: Sequence[RowShown], profiles: Sequence[Profile]) -> tuple[RowShown, ...]:
    """Add top speed with its band from each athlete's newest profile."""
    newest = {one.athlete: one for one in sorted(profiles, key=lambda one: (one.date, len(one.splits)))}
    return tuple(_with_speed(row, newest.get(row.card.ref)) for row in rows)


def _with_speed(row: RowShown, profile: Profile | None) -> RowShown:
    speed = profile.vmax_mps if profile else None
    if speed is None:
        return row
    return RowShown(**{**row.__dict__, "vmax": estimate_shown(speed, unit="m/s"), "vmax_mps": speed.value})


def ordered(rows: Sequence[RowShown], *, sort: str) -> tuple[RowShown, ...]:
    """Sort rows: the fastest or the longest untested first; who has no number stands last."""

    def key(row: RowShown) -> tuple[float, str]:
        number = {
            "top_speed": -row.vmax_mps if row.vmax_mps else None,
            "time": row.time_s,
            "tested": float(row.tested.toordinal()) if row.tested else None,
        }.get(sort, 0.0)
        return (float("inf") if number is None else number, row.card.name.casefold())

    return tuple(sorted(rows, key=key))
