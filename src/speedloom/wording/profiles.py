"""Profiles as plain text: one row an athlete with bands, then what to know about each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from speedloom.training.profile import Estimate, Profile
from speedloom.wording.dates import full_date, listing
from speedloom.wording.names import word
from speedloom.wording.refusals import refusal_text
from speedloom.wording.units import METRIC, Units, mass, seconds

HEADS = ("athlete", "top speed m/s", "start force N/kg", "power W/kg", "tau s", "start offset s")
FIELDS = ("vmax_mps", "f0_npkg", "pmax_wpkg", "tau_s", "offset_s")
DECIMALS = (2, 2, 1, 2, 2)
PRIOR = "°"
NOT_SHOWN = "–"
DOUBTS = frozenset({"beyond_sprinters", "flying_start"})
LEGEND = (
    "Each value with its 90 % band. Start force: the largest push forward from standstill, in newtons for\n"
    "each kilogram of body mass (N/kg); power in watts for each (W/kg); tau: the time to come up to speed."
)
PRIOR_NOTE = f"{PRIOR} rests partly on what is usual, not on this test alone."


def profiles_text(
    profiles: Sequence[Profile], *, more: Mapping[str, Sequence[str]] | None = None, units: Units = METRIC
) -> str:
    """Write profiles as a table, with the tests they rest on and every warning below.

    `more` holds further lines by a profile's reference, such as what pays.
    """
    rows = [HEADS, *(_row(profile) for profile in profiles)]
    widths = [max(len(row[index]) for row in rows) for index in range(len(HEADS))]
    table = [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows
    ]
    notes = [line for profile in profiles for line in _notes(profile, more=more or {}, units=units)]
    marked = any(PRIOR in row for row in table)
    return "\n".join([*table, "", LEGEND, *([PRIOR_NOTE] if marked else ()), "", *notes]) + "\n"


def doubts(profiles: Sequence[Profile]) -> tuple[str, ...]:
    """Say what in the tests was left out or can hardly be true: refused trials, numbers beyond sprinters'."""
    found = []
    for profile in profiles:
        said = [refusal_text(refused) for refused in profile.trials.refused]
        said += [warning.message for warning in profile.warnings if warning.id in DOUBTS]
        found += [f"Tests of {profile.athlete}, {full_date(profile.date)}: {one}" for one in said]
    return tuple(found)


def _row(profile: Profile) -> tuple[str, ...]:
    estimates = (
        _estimate(getattr(profile, field), decimals=decimals)
        for field, decimals in zip(FIELDS, DECIMALS, strict=True)
    )
    return (profile.athlete, *estimates)


def _estimate(estimate: Estimate | None, *, decimals: int) -> str:
    if estimate is None:
        return NOT_SHOWN
    value, low, high = (
        f"{one:.{decimals}f}".replace("-", "−") for one in (estimate.value, estimate.low, estimate.high)
    )
    return f"{value}{PRIOR * estimate.prior_driven} ({low} to {high})"


def _notes(profile: Profile, *, more: Mapping[str, Sequence[str]], units: Units) -> Iterator[str]:
    yield f"{profile.athlete}: {_basis(profile, units=units)}"
    yield from (f"  {refusal_text(refused)}" for refused in profile.trials.refused)
    if profile.splits:
        worst = max(profile.splits, key=lambda split: abs(split.time_s - split.fitted_s))
        off = seconds(abs(worst.time_s - worst.fitted_s), decimals=3)
        yield f"  furthest from the fitted curve: {off} at {worst.distance_m:g} m"
    yield from (f"  {line}" for line in more.get(profile.ref, ()))
    yield from (f"  to know: {warning.message}" for warning in profile.warnings)


def _basis(profile: Profile, *, units: Units) -> str:
    which = "mean of trials" if profile.trials.rule == "mean" else "best trial"
    parts = (
        full_date(profile.date),
        f"{profile.timing}, clock {word(profile.clock)}",
        f"{which} {listing(_words(profile.trials.used))}" if profile.trials.used else "no usable trial",
        mass(profile.mass_kg, units=units) if profile.mass_kg else "",
        word(profile.surface or ""),
    )
    return ", ".join(filter(None, parts))


def _words(numbers: Iterable[int]) -> Iterator[str]:
    return (str(number) for number in numbers)
