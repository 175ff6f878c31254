"""The numbers of a programme and the basis node that each of them names."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from speedloom.checking.people import Person
from speedloom.checking.scene import Scene
from speedloom.training.programme import Prescription, Session, Volume, Week

_HALF_UNIT: Mapping[str, float] = {
    "distance_m": 0.005,
    "run_in_m": 0.005,
    "height_m": 0.005,
    "load_kg": 0.005,
    "added_kg": 0.005,
    "share_1rm": 0.0005,
    "decrement": 0.0005,
    "effort": 0.0005,
    "grade": 0.0005,
    "specificity": 0.0005,
    "minutes": 0.25,
    "expect.time_s": 0.0005,
    "expect.low": 0.0005,
    "expect.high": 0.0005,
    "expect.share_vmax": 0.0005,
    "sets": 0.0,
    "reps": 0.0,
    "reps_to": 0.0,
    "rir": 0.0,
    "contacts": 0.0,
    "hold_s": 0.0,
    "rest_reps_s": 0.0,
    "rest_s": 0.0,
    "stop_rule.value": 0.0,
}
"""Half of the last digit in which each field is stored; whole numbers are exact."""

_GUARD = 1e-9
_VOLUME_DIGITS = 5e-4
_LINE_FIELDS = tuple(
    name for name in _HALF_UNIT if "." not in name and name not in {"specificity", "minutes"}
)
_EXPECTED = ("time_s", "low", "high", "share_vmax")


@dataclass(frozen=True)
class Held:
    """One number, where it stands, and the node it names ("" where it names none)."""

    person: Person
    week: Week
    session: Session | None
    line: Prescription | None
    field: str
    value: float
    node: str
    half_unit: float

    def equals(self, value: object) -> bool:
        """Say whether the node's value is this number, as precisely as it is stored."""
        if not isinstance(value, int | float):
            return False
        return abs(value - self.value) <= self.half_unit + _GUARD


def held_numbers(scene: Scene) -> Iterator[Held]:
    """Give every number of the programme that must have a derivation, in the order of the document."""
    for person in scene.people:
        for week in person.programme.weeks:
            yield from _of_week(person, week)
            for session in week.sessions:
                yield from _of_session(person, week, session)


def _of_week(person: Person, week: Week) -> Iterator[Held]:
    yield _held(person, week, None, None, "specificity", week.specificity, week.basis)
    for method, volume in week.volumes.items():
        yield from _of_volume(person, week, f"volumes.{method}", volume)


def _of_volume(person: Person, week: Week, field: str, volume: Volume) -> Iterator[Held]:
    for name, value in ((field, volume.planned), (f"{field}.wanted", volume.wanted)):
        node = week.basis.get(name, "")
        yield Held(person, week, None, None, name, value, node, _VOLUME_DIGITS * abs(value))


def _of_session(person: Person, week: Week, session: Session) -> Iterator[Held]:
    yield _held(person, week, session, None, "minutes", session.minutes, session.basis)
    for line in session.prescriptions:
        yield _held(person, week, session, line, "minutes", line.minutes, line.basis)
        if line.purpose == "work":
            for field, value in _numbers_of(line):
                yield _held(person, week, session, line, field, value, line.basis)


def _numbers_of(line: Prescription) -> Iterator[tuple[str, float]]:
    for name in _LINE_FIELDS:
        value = getattr(line, name)
        if value is not None:
            yield name, value
    if line.expect is not None:
        for name in _EXPECTED:
            value = getattr(line.expect, name)
            if value is not None:
                yield f"expect.{name}", value
    if line.stop_rule is not None and line.stop_rule.value is not None:
        yield "stop_rule.value", line.stop_rule.value


def _held(
    person: Person,
    week: Week,
    session: Session | None,
    line: Prescription | None,
    field: str,
    value: float,
    basis: Mapping[str, str],
) -> Held:
    return Held(person, week, session, line, field, value, basis.get(field, ""), _HALF_UNIT[field])
