"""What a sheet says about people: limits without a medical reason, minors, whether a clinician is named."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from speedloom.training.athlete import Athlete, Limit, Restriction
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme
from speedloom.wording.cautions import MINORS, OWN_WORDS
from speedloom.wording.dates import day_month, span
from speedloom.wording.names import METHOD_NAMES, exercise_name, word
from speedloom.wording.units import METRIC, Units, length, mass, number, share

ADULT_YEARS = 18
_AMOUNTS = {
    "contacts": "{} contacts",
    "minutes": "{} minutes",
    "sets": "{} sets",
}
_NOTHING = {
    "share_vmax": "running",
    "share_1rm": "lifting",
    "distance_m": "running",
    "load_kg": "load",
    "contacts": "contacts",
    "minutes": "training",
    "sets": "training",
}
"""What a limit of nothing forbids where it names no method, exercise or tag."""
_TAGS = {
    "bound": "bounding",
    "shock": "shock jumps",
    "max_speed": "flat-out running",
    "low_start": "low starts",
}
"""Tags that would say something else after "no": "no bound" reads as no limit at all."""


def limited(person: Athlete | None, *, on: date) -> bool:
    """Say whether a limit is in force on a day; which one stands on the athlete's own sheet."""
    return any(restriction.holds(on) for restriction in (person.restrictions if person else ()))


def limits_text(person: Athlete | None, *, on: date, catalogue: Catalogue, units: Units = METRIC) -> str:
    """Write the limits in force on a day, such as `at most 80 % of top speed; no hop, right`."""
    held = [restriction for restriction in (person.restrictions if person else ()) if restriction.holds(on)]
    texts = (
        limit_text(limit, catalogue=catalogue, units=units)
        for restriction in held
        for limit in restriction.limits
    )
    return "; ".join(dict.fromkeys(texts))


def dated_limits(
    person: Athlete | None, *, first: date, last: date, catalogue: Catalogue, units: Units = METRIC
) -> tuple[str, ...]:
    """Write the limits in force on any day of a span, each with the days it holds, the earliest first."""
    held = [
        restriction
        for restriction in (person.restrictions if person else ())
        if restriction.from_ <= last and (restriction.until is None or restriction.until >= first)
    ]
    texts = (
        (_days(one), [limit_text(limit, catalogue=catalogue, units=units) for limit in one.limits])
        for one in sorted(held, key=lambda one: one.from_)
    )
    return tuple(dict.fromkeys(f"{'; '.join(said)} ({days})" for days, said in texts))


def _days(held: Restriction) -> str:
    if held.until is None:
        return f"from {day_month(held.from_)} until it is lifted"
    return span(held.from_, held.until)


def limit_text(limit: Limit, *, catalogue: Catalogue, units: Units = METRIC) -> str:
    """Write one limit in the field's words."""
    about = (
        METHOD_NAMES[limit.method].lower() if limit.method else "",
        exercise_name(limit.exercise, catalogue=catalogue) if limit.exercise else "",
        _TAGS.get(limit.tag, word(limit.tag)) if limit.tag else "",
    )
    subject = " ".join(filter(None, about))
    side = f", {limit.side}" if limit.side else ""
    if limit.at_most == 0:
        return f"no {subject or _NOTHING[limit.what]}{side}"
    if limit.what == "share_vmax":
        amount = f"{share(limit.at_most)} of top speed"
    elif limit.what == "share_1rm":
        amount = f"{share(limit.at_most)} of 1RM"
    elif limit.what == "load_kg":
        amount = mass(limit.at_most, units=units)
    elif limit.what == "distance_m":
        amount = f"{length(limit.at_most, units=units)} a run"
    else:
        amount = _AMOUNTS[limit.what].format(number(limit.at_most))
    return f"at most {amount}{f' in {subject}' if subject else ''}{side}"


def minors_among(people: Iterable[Athlete | None], *, on: date) -> bool:
    """Say whether somebody is, or may be, under 18: an unknown age counts as young."""
    ages = [person.age_years(on) if person else None for person in people]
    return any(age is None or age < ADULT_YEARS for age in ages)


def with_adult(cautions: Sequence[str], programme: Programme) -> tuple[str, ...]:
    """Name the responsible adult of the brief beside the caution about minors, where it stands."""
    content = programme.brief.content
    adult = content.responsible_adult if content else None
    about = {MINORS, OWN_WORDS[MINORS]}
    return tuple(f"{text} Responsible: {adult}." if adult and text in about else text for text in cautions)


def clinician_named(programme: Programme) -> bool:
    """Say whether a clinician has set any restriction of this squad."""
    content = programme.brief.content
    people = content.athletes if content else ()
    return any(held.set_as == "clinician" for person in people for held in person.restrictions)
