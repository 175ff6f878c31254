"""Plan a programme: fit the tests, plan every athlete, or say what clashes."""

from __future__ import annotations

from collections.abc import Callable

from speedloom.planning.clash import Clash
from speedloom.planning.measured import Measured
from speedloom.planning.plan import plan
from speedloom.training.brief import ResolvedBrief
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import Rulebook
from speedloom.workflows.profile_athlete import fitted_profiles, newest_by_athlete
from speedloom.workflows.profile_fit import FittedProfile
from speedloom.workflows.profile_traces import fitted_traces


def plan_programme(
    brief: ResolvedBrief,
    *,
    rulebook: Rulebook,
    catalogue: Catalogue,
    progress: Callable[[str, float], None] | None = None,
) -> Programme | Clash:
    """Plan a resolved brief; the coach's changes to the rulebook are read from it.

    Args:
        brief: the resolved brief with its measurements.
        rulebook: the packaged rulebook.
        catalogue: the packaged catalogue.
        progress: called with the athlete being planned and the share that is done.
    """
    book = rulebook.with_changes(brief.rules)
    measured = measured_athletes(brief, rulebook=book)
    return plan(brief, rulebook=book, catalogue=catalogue, measured=measured, progress=progress)


def measured_athletes(brief: ResolvedBrief, *, rulebook: Rulebook) -> dict[str, Measured]:
    """Fit each athlete's newest sprint profile of a brief.

    Args:
        brief: the resolved brief with its measurements.
        rulebook: the rulebook with the brief's changes.
    """
    people = {athlete.ref: athlete for athlete in brief.athletes}
    measured, rule = brief.measurements, brief.trial
    fitted = (
        *fitted_profiles(measured, trial_rule=rule, rulebook=rulebook, people=people),
        *fitted_traces(measured.traces, trial_rule=rule, rulebook=rulebook, people=people),
    )
    return {
        athlete: _measured(profile)
        for athlete, profile in newest_by_athlete(fitted, until=brief.end).items()
        if athlete in people
    }


def _measured(profile: FittedProfile) -> Measured:
    around = profile.around
    return Measured(
        ref=profile.ref,
        timing=profile.timing,
        clock=profile.clock,
        behind_m=profile.behind_m,
        gates=profile.gates,
        prior=profile.prior,
        f0_npkg=profile.f0_npkg,
        v0_mps=profile.v0_mps,
        correlation=profile.correlation,
        length_m=profile.length_m,
        offset_s=profile.offset_s,
        temperature_c=around.temperature_c,
        altitude_m=around.altitude_m,
        by=profile.by,
    )
