"""Measures of a retest, their values, changes and verdicts, as people read them."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from speedloom.training.exercise import Catalogue
from speedloom.training.typical_error import MeasureKind
from speedloom.wording.dates import full_date
from speedloom.wording.names import short_name, word
from speedloom.wording.units import METRIC, Units, length, mass, number
from speedloom.workflows.retest import Change, Panel
from speedloom.workflows.retest_values import Measure, Setting

_NAMES: Mapping[MeasureKind, str] = {
    "vmax": "Top speed",
    "f0": "Start force",
    "jump_height": "Jump height",
    "reactive_strength": "Rebound jump, height by contact time",
}
_BETTER: Mapping[MeasureKind, str] = {
    "split_time": "likely faster",
    "vmax": "likely faster",
    "f0": "likely more",
    "jump_height": "likely higher",
    "reactive_strength": "likely better",
    "one_rep_max": "likely stronger",
}
_WORSE: Mapping[MeasureKind, str] = {
    "split_time": "likely slower",
    "vmax": "likely slower",
    "f0": "likely less",
    "jump_height": "likely lower",
    "reactive_strength": "likely less",
    "one_rep_max": "likely less strong",
}
_DECIMALS: Mapping[MeasureKind, int] = {
    "split_time": 2,
    "vmax": 2,
    "f0": 2,
    "jump_height": 1,
    "reactive_strength": 2,
    "one_rep_max": 1,
}
NOT_JUDGED_ALONE = "not judged here"
NOT_JUDGED_WHY = (
    "Not judged here: how much this test scatters is not known from these tests alone. The page of the first "
    "test and the last reads them together with the whole squad's."
)
ALMOST_SURE = 0.995
ALMOST_NONE = 0.005
CM_PER_M = 100.0


def measure_name(measure: Measure, *, catalogue: Catalogue, units: Units = METRIC) -> str:
    """Name a measure: a distance for a time, else what it is."""
    if measure.kind == "split_time":
        return f"{length(measure.distance_m or 0.0, units=units)} time"
    if measure.kind == "one_rep_max":
        return f"{short_name(measure.exercise or '', catalogue=catalogue)} 1RM"
    more = f" with {mass(measure.added_kg, units=units)}" if measure.added_kg else ""
    return f"{_NAMES[measure.kind]}{more}"


def value_text(measure: Measure, value: float, *, finer: bool = False, units: Units = METRIC) -> str:
    """Write a value or an error with its unit; `finer` by one decimal."""
    if measure.kind == "one_rep_max":
        return (
            mass(value, units=units) if units.mass == "lb" else f"{value:.{1 + finer}f} kg".replace("-", "−")
        )
    scaled = CM_PER_M * value if measure.unit == "m" else value
    decimals = _DECIMALS[measure.kind] + finer
    unit = unit_text(measure)
    return f"{scaled:.{decimals}f} {unit}".replace("-", "−")


def change_text(measure: Measure, value: float, *, finer: bool = False, units: Units = METRIC) -> str:
    """Write a change with its sign."""
    text = value_text(measure, value, finer=finer, units=units)
    plain = text.removeprefix("−")
    if not any(digit in plain for digit in "123456789"):
        return plain
    return text if text.startswith("−") else f"+{text}"


def between_text(measure: Measure, before: float, after: float, *, units: Units = METRIC) -> str:
    """Write the change between two values as they are shown: what is read there, taken from each other.

    >>> between_text(Measure("f0"), 6.514, 6.556)
    '+0.05 N/kg'
    """
    first, last = (value_text(measure, one, units=units).partition(" ") for one in (before, after))
    difference = _as_shown(last[0]) - _as_shown(first[0])
    sign = "+" if difference > 0 else "−" if difference < 0 else ""
    return f"{sign}{abs(difference)} {last[2]}"


def _as_shown(number_text: str) -> Decimal:
    return Decimal(number_text.replace("−", "-"))


def chance_text(chance: float) -> str:
    """Write a chance in whole per cent, never as certain.

    >>> chance_text(0.931), chance_text(0.9999), chance_text(0.0001)
    ('93 %', 'over 99 %', 'under 1 %')
    """
    if chance >= ALMOST_SURE:
        return "over 99 %"
    if chance < ALMOST_NONE:
        return "under 1 %"
    return f"{number(100 * chance, decimals=0)} %"


def chance_short(chance: float) -> str:
    """Write a chance for a narrow column.

    >>> chance_short(0.931), chance_short(0.9999), chance_short(0.0001)
    ('93 %', '>99 %', '<1 %')
    """
    return chance_text(chance).replace("under ", "<").replace("over ", ">")


def verdict_words(measure: Measure, change: Change) -> str:
    """Say what the chance rule makes of a change."""
    words = {
        "better": _BETTER[measure.kind],
        "worse": _WORSE[measure.kind],
        "trivial": "likely no change",
        "unclear": "too close to call",
    }
    return words.get(change.verdict, "not judged")


def verdict_text(measure: Measure, change: Change) -> str:
    """Say what the chance rule makes of a change, with its chance."""
    said = verdict_words(measure, change)
    judged = change.verdict in {"better", "worse", "trivial"} and change.chance is not None
    return f"{said} ({chance_text(change.chance or 0.0)})" if judged else said


def days_text(panel: Panel) -> str:
    """Say which days are compared, and with how many trials."""
    days = {(one.before.date, one.after.date) for one in panel.changes}
    first, last = min(one for one, _ in days), max(one for _, one in days)
    when = f"{full_date(first)} against {full_date(last)}"
    if len(days) > 1:
        when = f"each athlete's first test against the last, {full_date(first)} to {full_date(last)}"
    counts = [sorted({len(getattr(one, end).trials) for one in panel.changes}) for end in ("before", "after")]
    tries = " against ".join("–".join(str(one) for one in sorted({ends[0], ends[-1]})) for ends in counts)
    return f"{when}; trials {tries}"


def unit_text(measure: Measure) -> str:
    """Give the unit that values are written in; heights in centimetres."""
    return "cm" if measure.unit == "m" else measure.unit


def setting_text(setting: Setting) -> str:
    """Say in one line how it was tested."""
    known = dict(setting)
    clocks = {"movement": "clock from the first movement", "unknown": "clock of unknown start"}
    behind = known.get("behind_m", "")
    parts = [
        known.get("timing", ""),
        f"{behind} behind the first beam" if behind else "",
        "" if behind else clocks.get(known.get("clock", ""), known.get("clock", "")),
        f"{word(known['start'])} start" if known.get("start") else "",
        word(known.get("surface", "")),
        f"from {known['height from']}" if known.get("height from") else "",
        f"{known['jump']} jump" if known.get("jump") else "",
    ]
    return ", ".join(filter(None, parts))
