"""What is asked for a new programme; whatever is wrong is said at its field, and what was typed stays."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from itertools import count
from typing import Any, cast

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext_lazy as _

from speedloom.training.brief import Brief
from speedloom.training.calendar import Peak, Slot
from speedloom.training.words import WEEKDAYS, GoalKind
from speedloom.web.pages.new_programme.first_days import Proposed
from speedloom.wording.dates import between
from speedloom.wording.names import word

KINDS = {
    "sprint_time": _("a time from standing"),
    "flying_speed": _("top speed"),
    "general": _("speed in general"),
}
LIGHTER = {"last": _("last week of a mesocycle"), "first": _("first week of a mesocycle"), "none": _("none")}
SPARE_ROWS, LEAST_ROWS = 2, 4
_DIGITS = re.compile(r"\d+")
_COUNTED = re.compile(r" \d{1,2}$")


class ProgrammeForm(forms.Form):
    """Goal, dates and how the weeks are laid out."""

    name = forms.CharField(label=_("Name"), max_length=150)
    kind = forms.ChoiceField(label=_("What counts"), choices=list(KINDS.items()))
    distance_m = forms.FloatField(
        label=_("Distance that counts, m"), required=False, min_value=5, max_value=400
    )
    start = forms.DateField(label=_("First day"), widget=forms.DateInput({"type": "date"}, "%Y-%m-%d"))
    end = forms.DateField(label=_("Last day"), widget=forms.DateInput({"type": "date"}, "%Y-%m-%d"))
    peak = forms.DateField(
        label=_("Day to be fastest on"),
        required=False,
        widget=forms.DateInput({"type": "date"}, "%Y-%m-%d"),
        help_text=_("Left empty: no taper."),
    )
    mesocycle_weeks = forms.CharField(
        label=_("Weeks of each mesocycle"), help_text=_("3 to 6 each, such as 4, 4, 4.")
    )
    deload = forms.ChoiceField(label=_("Lighter week"), choices=list(LIGHTER.items()))
    taper_days = forms.TypedChoiceField(
        label=_("Days of taper"), coerce=int, choices=[(0, _("none")), *((n, str(n)) for n in range(8, 15))]
    )

    def clean_mesocycle_weeks(self) -> tuple[int, ...]:
        """Read the weeks of the mesocycles."""
        weeks = tuple(int(text) for text in _DIGITS.findall(self.cleaned_data["mesocycle_weeks"]))
        if not weeks or not all(3 <= one <= 6 for one in weeks):  # noqa: PLR2004 - as the field says
            raise forms.ValidationError(_("Expected weeks from 3 to 6, such as 4, 4, 4."))
        return weeks

    def clean(self) -> dict[str, Any]:
        """Hold the dates beside each other."""
        data = super().clean() or {}
        start, end, peak = data.get("start"), data.get("end"), data.get("peak")
        if start and end and end <= start:
            self.add_error("end", _("Expected a last day after the first."))
        if peak and start and end and not start <= peak <= end:
            self.add_error("peak", _("Expected a day from the first to the last."))
        if data.get("kind") == "sprint_time" and not data.get("distance_m"):
            self.add_error("distance_m", _("A time needs a distance."))
        return data

    def changed(self, brief: Brief) -> Brief:
        """Give the brief with what was typed."""
        data = self.cleaned_data
        goal = brief.goal.model_copy(
            update={
                "kind": cast("GoalKind", data["kind"]),
                "distance_m": data["distance_m"],
                "peaks": (Peak(date=data["peak"], size="main"),) if data["peak"] else (),
            }
        )
        phases = brief.phases.model_copy(
            update={
                "mesocycle_weeks": data["mesocycle_weeks"],
                "deload": data["deload"],
                "taper_days": data["taper_days"],
            }
        )
        return brief.model_copy(
            update={
                "name": data["name"],
                "start": data["start"],
                "end": data["end"],
                "goal": goal,
                "phases": phases,
            }
        )


def first_values(brief: Brief, days: Proposed, *, names: Collection[str] = ()) -> dict[str, Any]:
    """Give what the form holds before anything was typed: the brief on new days, by a free name."""
    return {
        "name": _free_name(brief.name, names),
        "kind": brief.goal.kind,
        "distance_m": brief.goal.distance_m,
        "start": days.start,
        "end": days.end,
        "peak": days.peak,
        "mesocycle_weeks": ", ".join(str(one) for one in brief.phases.mesocycle_weeks),
        "deload": brief.phases.deload,
        "taper_days": brief.phases.taper_days,
    }


def _free_name(name: str, taken: Collection[str]) -> str:
    """Count a name up until no programme has it.

    >>> _free_name("Spring build", {"Spring build", "Spring build 2"})
    'Spring build 3'
    """
    if name not in taken:
        return name
    bare = _COUNTED.sub("", name)
    return next(one for number in count(2) if (one := f"{bare} {number}") not in taken)


class SlotForm(forms.Form):
    """One day of the week that can be trained on."""

    ref = forms.CharField(required=False, widget=forms.HiddenInput)
    day = forms.ChoiceField(
        label=_("Day"), required=False, choices=[("", "–"), *((day, day.capitalize()) for day in WEEKDAYS)]
    )
    start = forms.TimeField(
        label=_("Start"), required=False, widget=forms.TimeInput({"type": "time"}, "%H:%M")
    )
    minutes = forms.IntegerField(label=_("Minutes"), required=False, min_value=10, max_value=300)
    place = forms.ChoiceField(label=_("Place"), required=False)

    def __init__(self, *args: Any, places: Sequence[str], **kwargs: Any) -> None:  # noqa: ANN401 - Django's own
        """Offer the squad's places."""
        super().__init__(*args, **kwargs)
        field = cast("forms.ChoiceField", self.fields["place"])
        field.choices = [("", "–"), *((place, word(place)) for place in places)]
        self.dates = ""

    def clean(self) -> dict[str, Any]:
        """A day needs the rest as well; a row without a day is no slot."""
        data = super().clean() or {}
        for name in ("start", "minutes", "place"):
            if data.get("day") and not data.get(name) and name not in self.errors:
                self.add_error(name, _("Missing."))
        return data

    def slot(self, brief: Brief, number: int) -> Slot | None:
        """Give the slot, with what the row does not show kept from the brief."""
        data = self.cleaned_data
        if not data.get("day"):
            return None
        known = next((slot for slot in brief.slots if slot.ref == data["ref"]), None)
        values = {name: data[name] for name in ("day", "start", "minutes", "place")}
        if known is not None:
            return known.model_copy(update=values)
        return Slot(ref=f"{data['day'][:3]}_{data['place']}_{number}"[:40], **values)


def slot_forms(brief: Brief, data: QueryDict | None) -> list[SlotForm]:
    """Give a row for every slot of the brief, and some to spare."""
    places = [place.ref for place in brief.places]
    spare = max(SPARE_ROWS, LEAST_ROWS - len(brief.slots))
    rows = [*brief.slots, *([None] * spare)]
    shown = max(len(rows), int(data.get("slots", "0")) if data and data.get("slots", "0").isdigit() else 0)
    found = []
    for place in range(min(shown, 40)):
        slot = rows[place] if place < len(rows) else None
        first = {} if slot is None else slot.model_dump()
        form = SlotForm(data, prefix=f"slot{place}", initial=first, places=places)
        form.dates = between(slot.from_, slot.until) if slot else ""
        found.append(form)
    return found
