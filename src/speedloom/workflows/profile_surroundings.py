"""The body and the air of a day's runs: what was measured, and what is assumed in its place."""

from __future__ import annotations

from typing import Protocol

from speedloom.science.mechanics.air import dry_air_density
from speedloom.training.measurement import Trial
from speedloom.training.programme import node_precision
from speedloom.training.rule import Rulebook
from speedloom.training.words import Timing
from speedloom.workflows.profile_fit import Surroundings, stored_drag


class Person(Protocol):
    """What a fit needs to know of a person; an `Athlete` of the brief will do."""

    @property
    def sex(self) -> str | None:
        """Female, male, or None."""

    @property
    def mass_kg(self) -> float | None:
        """Body mass [kg]."""

    @property
    def height_m(self) -> float | None:
        """Body height [m]."""


def surroundings(
    timing: Timing, *, person: Person | None, rulebook: Rulebook, trial: Trial | None = None
) -> Surroundings:
    """Give body and air of a run: the brief's person first, then the trial's row, then what is usual.

    Args:
        timing: how the run was timed.
        person: the brief's athlete, where there is one.
        rulebook: the rulebook, for what is usual.
        trial: the trial, where there is one; a speed trace has none.
    """
    sex = (person.sex if person else None) or (trial.sex if trial else None) or "unknown"
    mass = (person.mass_kg if person else None) or (trial.mass_kg if trial else None)
    height = (person.height_m if person else None) or (trial.height_m if trial else None)
    temperature, altitude = (trial.temperature_c, trial.altitude_m) if trial else (None, None)

    def assumed(what: str) -> float:
        return rulebook.number("assumed_body", what)

    warm = assumed("temperature_c") if temperature is None else temperature
    high = assumed("altitude_m") if altitude is None else altitude
    density = node_precision(float(dry_air_density(warm, high)))
    stood = height or assumed(f"height_{sex}_m")
    weighed = mass or assumed(f"mass_{sex}_kg")
    return Surroundings(
        mass_kg=weighed,
        height_m=stood,
        density_kgpm3=density,
        drag_kgpm=stored_drag(stood, weighed, density),
        timing_sd_s=rulebook.number("expected_time", f"timing_{timing}_s"),
        temperature_c=temperature,
        altitude_m=altitude,
        mass_assumed=mass is None,
        height_assumed=height is None,
    )
