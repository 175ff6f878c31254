"""What planning knows of an athlete's measurements, as numbers with their basis."""

from __future__ import annotations

from dataclasses import dataclass, field

from speedloom.planning.ledger import Input, Ledger, Tag, literal
from speedloom.science.strength.one_rep_max import REPETITIONS_TO_FAILURE
from speedloom.training.athlete import Athlete
from speedloom.training.measurement import Lift
from speedloom.training.words import Clock, Timing

FEWEST_GATES = 3


@dataclass(frozen=True)
class Estimated:
    """A value with its standard deviation and its 90 % band."""

    value: float
    sd: float
    low: float
    high: float

    @property
    def band(self) -> tuple[float, float]:
        """The 90 % band."""
        return (self.low, self.high)


@dataclass(frozen=True)
class Measured:
    """One athlete's fitted sprint profile, as planning needs it."""

    ref: str
    timing: Timing
    clock: Clock
    behind_m: float | None
    gates: int
    prior: str
    f0_npkg: Estimated
    v0_mps: Estimated
    correlation: float
    length_m: Estimated
    offset_s: Estimated | None
    temperature_c: float | None = None
    altitude_m: float | None = None
    by: str = "profile.fit"


@dataclass(frozen=True)
class AthleteNumbers:
    """The basis nodes of one athlete's body, profile and lifts."""

    mass: Tag
    drag: Tag
    length: Tag
    timing_sd: Tag
    f0: Tag | None = None
    v0: Tag | None = None
    correlation: Tag | None = None
    offset: Tag | None = None
    behind: Tag | None = None
    clock: str = ""
    individual: bool = False
    one_rep_max: dict[str, Tag] = field(default_factory=dict)

    def motion(self) -> dict[str, Input]:
        """Give the arguments that describe this athlete's running."""
        if self.f0 is None or self.v0 is None:
            return {}
        return {"f0_npkg": self.f0, "v0_mps": self.v0, "mass_kg": self.mass, "drag_kgpm": self.drag}


def athlete_numbers(ledger: Ledger, athlete: Athlete, *, measured: Measured | None) -> AthleteNumbers:
    """Enter one athlete's measurements into the ledger."""
    mass = _body(ledger, athlete, "mass_kg", "kg")
    height = _body(ledger, athlete, "height_m", "m")
    density = ledger.compute(
        "air density",
        "kg/m3",
        "air.density",
        temperature_c=_air(measured, "temperature_c"),
        altitude_m=_air(measured, "altitude_m"),
    )
    drag = ledger.compute(
        "air drag",
        "kg/m",
        "air.drag",
        height_m=height,
        mass_kg=mass,
        density_kgpm3=density,
    )
    lifts = _one_rep_maxima(ledger, athlete)
    timing = measured.timing if measured else "gates"
    timing_sd = ledger.rule("timing spread", "expected_time", f"timing_{timing}_s")
    if measured is None:
        length = _typical_length(ledger, athlete)
        return AthleteNumbers(mass, drag, length, timing_sd, one_rep_max=lifts)
    return _with_profile(ledger, athlete, measured, (mass, drag, timing_sd), lifts)


def _air(measured: Measured | None, what: str) -> Input:
    value = None if measured is None else getattr(measured, what)
    return f"rule:assumed_body.{what}" if value is None else literal(value)


def _with_profile(
    ledger: Ledger, athlete: Athlete, measured: Measured, body: tuple[Tag, Tag, Tag], lifts: dict[str, Tag]
) -> AthleteNumbers:
    mass, drag, timing_sd = body
    inputs: dict[str, Input] = {
        "trials": f"test:{measured.ref}",
        "mass_kg": mass,
        "drag_kgpm": drag,
    }
    if measured.by == "profile.fit":
        inputs |= {"timing_sd_s": timing_sd, "prior": literal(measured.prior)}

    def fitted(quantity: str, estimate: Estimated | float, unit: str) -> Tag:
        value, band = (estimate.value, estimate.band) if isinstance(estimate, Estimated) else (estimate, None)
        return ledger.put(quantity, value, unit, by=measured.by, inputs=inputs, band=band)

    enough = measured.gates >= FEWEST_GATES
    length = fitted("length", measured.length_m, "m") if enough else _typical_length(ledger, athlete)
    clock = f"{measured.timing}/{measured.clock}"
    behind = None
    if measured.clock == "behind" and measured.behind_m is not None:
        clock += f"/{measured.behind_m:g}"
        behind = ledger.given("behind the first beam", measured.behind_m, "m", literal(measured.behind_m))
    return AthleteNumbers(
        mass,
        drag,
        length,
        timing_sd,
        f0=fitted("f0", measured.f0_npkg, "N/kg"),
        v0=fitted("v0", measured.v0_mps, "m/s"),
        correlation=fitted("correlation", measured.correlation, "1"),
        offset=fitted("offset", measured.offset_s, "s") if measured.offset_s else None,
        behind=behind,
        clock=clock,
        individual=enough,
        one_rep_max=lifts,
    )


def _body(ledger: Ledger, athlete: Athlete, what: str, unit: str) -> Tag:
    value = getattr(athlete, what)
    name = what.rpartition("_")[0]
    if value is not None:
        return ledger.given(name, value, unit, f"brief:athletes.{athlete.ref}.{what}")
    number = f"{name}_{athlete.sex or 'unknown'}_{unit}"
    return _typical(ledger, name, unit, number)


def _typical_length(ledger: Ledger, athlete: Athlete) -> Tag:
    age = athlete.age_years(ledger.brief.start)
    youth = age is not None and age < ledger.rulebook.number("assumed_body", "youth_age_years")
    number = "length_under_16_m" if youth else f"length_{athlete.sex or 'unknown'}_m"
    return _typical(ledger, "length", "m", number)


def _typical(ledger: Ledger, quantity: str, unit: str, number: str) -> Tag:
    return ledger.compute(quantity, unit, "profile.typical", value=f"rule:assumed_body.{number}")


def _one_rep_maxima(ledger: Ledger, athlete: Athlete) -> dict[str, Tag]:
    """Estimate each lift's 1RM from the heaviest estimate of its latest day; rule M3 refuses long sets."""
    # A coach may allow longer sets, but beyond ten the formulas themselves say nothing.
    most = min(ledger.rulebook.number("one_rep_max_repetitions", "reps"), REPETITIONS_TO_FAILURE.high)
    usable = [(place, lift) for place, lift in enumerate(athlete.lifts) if lift.reps + lift.rir <= most]
    latest: dict[str, tuple[Lift, Tag]] = {}
    for place, lift in usable:
        path = f"brief:athletes.{athlete.ref}.lifts.{place}"
        tag = ledger.compute(
            f"1RM {lift.exercise}",
            "kg",
            "one_rep_max.estimate",
            load_kg=f"{path}.load_kg",
            reps=f"{path}.reps",
            rir=f"{path}.rir",
        )
        known = latest.get(lift.exercise)
        if known is None or (lift.date, tag.value) > (known[0].date, known[1].value):
            latest[lift.exercise] = (lift, tag)
    return {exercise: tag for exercise, (_, tag) in latest.items()}
