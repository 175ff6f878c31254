"""What the check knows of an athlete: the brief's entry, and how long they accelerate by their own tests."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cached_property

from speedloom.checking.recompute.body import air_density, drag
from speedloom.checking.traces import band, chosen_traces
from speedloom.checking.trials import (
    Runs,
    TrialRule,
    chosen_runs,
    motion_of,
    needs_prior,
    population_prior,
    tells_tau,
)
from speedloom.errors import SpeedloomError
from speedloom.training.athlete import Athlete
from speedloom.training.brief import ResolvedBrief
from speedloom.training.measurement import Trace, Trial
from speedloom.training.programme import AthleteProgramme
from speedloom.training.rule import Rulebook
from speedloom.training.words import LEVELS, Level, LineMethod

_FEWEST_GATES = 3


@dataclass(frozen=True)
class Person:
    """One athlete as the rules see them; everything unknown stays None."""

    ref: str
    entry: Athlete | None
    programme: AthleteProgramme
    trials: tuple[Trial, ...]
    brief: ResolvedBrief | None
    book: Rulebook

    def level(self, method: LineMethod) -> Level | None:
        """Give the athlete's level in a method, or None where the brief has none; a youth's is novice."""
        if self._young:
            return "novice"
        levels = () if self.entry is None else self.entry.level.items()
        return next((level for known, level in levels if known == method), None)

    @property
    def highest_level(self) -> Level | None:
        """The highest of the athlete's levels."""
        levels = [] if self.entry is None else list(self.entry.level.values())
        return max(levels, key=LEVELS.index, default=None)

    def under(self, years: float, day: date) -> bool:
        """Say whether the athlete is known to be younger than this on a date."""
        age = None if self.entry is None else self.entry.age_years(day)
        return age is not None and age < years

    def is_away(self, day: date) -> bool:
        """Say whether the brief has the athlete away on a date."""
        return self.entry is not None and any(span.covers(day) for span in self.entry.away)

    @property
    def mass_kg(self) -> float | None:
        """Body mass (kg)."""
        return None if self.entry is None else self.entry.mass_kg

    @cached_property
    def _fitted(self) -> tuple[float, float] | None:
        """Top speed (m/s) and acceleration length (m) of the embedded trials, fitted here."""
        rule: TrialRule = "best" if self.brief is None else self.brief.trial
        if self.traces and not self.trials:
            return self._by_traces(rule)
        runs = chosen_runs(self.trials, rule=rule)
        if runs is None or len(runs.distances_m) < _FEWEST_GATES:
            return None
        return _fit(runs, self.book)

    @cached_property
    def traces(self) -> tuple[Trace, ...]:
        """The speed traces the programme was planned from, or all where it names no test."""
        everything = () if self.brief is None else self.brief.measurements.traces
        own = tuple(trace for trace in everything if trace.athlete == self.ref)
        return tuple(trace for trace in own if self.programme.profile in {None, trace.session})

    def _by_traces(self, rule: TrialRule) -> tuple[float, float] | None:
        entry = self.entry
        sex = "unknown" if entry is None or entry.sex is None else entry.sex

        def assumed(what: str) -> float:
            return self.book.number("assumed_body", what)

        mass = (entry.mass_kg if entry else None) or assumed(f"mass_{sex}_kg")
        height = (entry.height_m if entry else None) or assumed(f"height_{sex}_m")
        air = air_density({what: assumed(what) for what in ("temperature_c", "altitude_m")})
        dragged = drag({"height_m": height, "mass_kg": mass, "density_kgpm3": air})
        fits = chosen_traces(self.traces, rule=rule, mass_kg=mass, drag_kgpm=dragged)
        vmax, length = (band(what, fits) for what in ("vmax", "length")) if fits else (None, None)
        return None if vmax is None or length is None else (vmax[0], length[0])

    @property
    def vmax_mps(self) -> float | None:
        """Top speed by the athlete's own tests (m/s)."""
        return None if self._fitted is None else self._fitted[0]

    @cached_property
    def length_m(self) -> float:
        """Acceleration length (m): the athlete's own, or the typical one for age and sex."""
        if self._fitted is not None:
            return self._fitted[1]
        sex = None if self.entry is None else self.entry.sex
        age = "under_16" if self._young else sex or "unknown"
        return self.book.number("assumed_body", f"length_{age}_m")

    @cached_property
    def _young(self) -> bool:
        """Whether the athlete is known to be a youth on the programme's first day."""
        weeks = self.programme.weeks
        first = self.brief.start if self.brief else weeks[0].monday if weeks else date.min
        return self.under(self.book.number("assumed_body", "youth_age_years"), first)


def _fit(runs: Runs, book: Rulebook) -> tuple[float, float] | None:
    prior, spread = population_prior(book), book.number("expected_time", f"timing_{runs.timing}_s")
    try:
        free = None if needs_prior(runs, book) else motion_of(runs, spread, None)
        known = free is not None and tells_tau(free, book)
        fit = free if free is not None and known else motion_of(runs, spread, prior)
    except SpeedloomError:
        return None
    return float(fit.vmax_mps[0]), float(fit.length_m[0])
