"""Measured numbers as pages show them: the value large, its band and unit beside it."""

from __future__ import annotations

from dataclasses import dataclass

from speedloom.training.profile import Estimate, Profile
from speedloom.wording.names import word
from speedloom.wording.refusals import refusal_text


@dataclass(frozen=True)
class NumberShown:
    """A value with its band and unit."""

    value: str
    band: str
    unit: str
    partly_usual: bool


@dataclass(frozen=True)
class ProfileShown:
    """One profile in words."""

    ref: str
    name: str
    how: str
    vmax: NumberShown | None
    force: NumberShown | None
    power: NumberShown | None
    notes: tuple[str, ...]

    @property
    def partly_usual(self) -> bool:
        """Whether any of its numbers rests partly on what is usual."""
        return any(one is not None and one.partly_usual for one in (self.vmax, self.force, self.power))


def estimate_shown(estimate: Estimate | None, *, unit: str, decimals: int = 2) -> NumberShown | None:
    """Put an estimate into words."""
    if estimate is None:
        return None
    value, low, high = (f"{one:.{decimals}f}" for one in (estimate.value, estimate.low, estimate.high))
    return NumberShown(value, f"{low}–{high}", unit, estimate.prior_driven)


def profile_shown(profile: Profile, *, name: str) -> ProfileShown:
    """Put a profile into words, with everything there is to know about it."""
    rule = "mean of" if profile.trials.rule == "mean" else "best of"
    used = f"{rule} {len(profile.trials.used)}" if len(profile.trials.used) > 1 else ""
    notes = [refusal_text(refused) for refused in profile.trials.refused]
    notes += [warning.message for warning in profile.warnings]
    return ProfileShown(
        ref=profile.athlete,
        name=name,
        how=", ".join(filter(None, (word(profile.timing), used))),
        vmax=estimate_shown(profile.vmax_mps, unit="m/s"),
        force=estimate_shown(profile.f0_npkg, unit="N/kg"),
        power=estimate_shown(profile.pmax_wpkg, unit="W/kg", decimals=1),
        notes=tuple(f"{note[:1].upper()}{note[1:]}" for note in notes),
    )
