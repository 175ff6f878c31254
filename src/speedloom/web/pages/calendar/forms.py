"""What is asked for an event and for absences."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, cast, get_args

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from speedloom.training.calendar import Away, Event, Peak, Slot
from speedloom.training.words import WEEKDAYS, EventKind
from speedloom.wording.names import place_name, word

SPARE_ROWS, MOST_ROWS = 2, 60


def _box() -> forms.DateInput:
    return forms.DateInput({"type": "date"}, "%Y-%m-%d")


class EventForm(forms.Form):
    """A match, test day, exam, journey or holiday."""

    kind = forms.ChoiceField(
        label=gettext_lazy("What it is"),
        choices=[(kind, word(kind)) for kind in get_args(EventKind)],
        help_text=gettext_lazy("It decides how hard is trained around it."),
    )
    title = forms.CharField(label=gettext_lazy("Title"), required=False, max_length=100)
    date = forms.DateField(label=gettext_lazy("Day"), required=True, widget=_box())
    until = forms.DateField(
        label=gettext_lazy("Last day"),
        required=False,
        widget=_box(),
        help_text=gettext_lazy("Empty: one day."),
    )
    start = forms.TimeField(
        label=gettext_lazy("Start"),
        required=False,
        widget=forms.TimeInput({"type": "time"}, "%H:%M"),
    )
    training = forms.ChoiceField(
        label=gettext_lazy("Training on these days"),
        required=False,
        choices=[
            ("", gettext_lazy("as usual for its kind")),
            ("none", gettext_lazy("none")),
            ("possible", gettext_lazy("possible")),
        ],
    )

    def clean(self) -> dict[str, Any]:
        """Hold the days beside each other."""
        data = super().clean() or {}
        _rising(self, data)
        return data

    def event(self) -> Event:
        """Give the event with what was typed."""
        data = self.cleaned_data
        return Event(
            kind=data["kind"],
            title=" ".join(data["title"].split()),
            date=data["date"],
            until=data["until"] if data["until"] != data["date"] else None,
            start=data["start"],
            training=data["training"] or None,
        )


class SlotForm(forms.Form):
    """A weekday, a time and a place that can be trained on."""

    day = forms.ChoiceField(label=gettext_lazy("Day"), choices=[(day, day.capitalize()) for day in WEEKDAYS])
    start = forms.TimeField(label=gettext_lazy("Start"), widget=forms.TimeInput({"type": "time"}, "%H:%M"))
    minutes = forms.IntegerField(label=gettext_lazy("Minutes"), min_value=10, max_value=300)
    place = forms.ChoiceField(label=gettext_lazy("Place"))
    from_ = forms.DateField(
        label=gettext_lazy("First day it exists"),
        required=False,
        widget=_box(),
        help_text=gettext_lazy("Empty: from the start of the season."),
    )
    until = forms.DateField(
        label=gettext_lazy("Last day it exists"),
        required=False,
        widget=_box(),
        help_text=gettext_lazy("Empty: to its end."),
    )
    open = forms.BooleanField(
        label=gettext_lazy("Another weekday may be chosen instead"),
        required=False,
        help_text=gettext_lazy("Then the plan may move the training to a better day of the week."),
    )

    def __init__(self, *args: Any, places: Sequence[str], **kwargs: Any) -> None:  # noqa: ANN401 - Django's own
        """Offer the squad's places."""
        super().__init__(*args, **kwargs)
        field = cast("forms.ChoiceField", self.fields["place"])
        field.choices = [(place, place_name(place)) for place in places]

    def clean(self) -> dict[str, Any]:
        """Hold the days beside each other."""
        data = super().clean() or {}
        first, last = data.get("from_"), data.get("until")
        if first and last and last < first:
            self.add_error("until", _("Expected the first day or a later one."))
        return data

    def slot(self, ref: str) -> Slot:
        """Give the slot with what was typed."""
        data = dict(self.cleaned_data)
        first = data.pop("from_")
        return Slot.model_validate({"ref": ref, "from": first, **data})


class PeakForm(forms.Form):
    """A day to be fast on; a row without a day is none."""

    date = forms.DateField(label=gettext_lazy("Day"), required=False, widget=_box())
    size = forms.ChoiceField(
        label=gettext_lazy("How much is made of it"),
        required=False,
        choices=[
            ("main", gettext_lazy("main: with a taper")),
            ("minor", gettext_lazy("minor: the last days are lighter")),
        ],
    )


def peak_forms(peaks: tuple[Peak, ...], data: QueryDict | None) -> list[PeakForm]:
    """Give a row for every peak, and some to spare."""
    typed = data.get("rows", "") if data is not None else ""
    count = int(typed) if typed.isdecimal() else len(peaks) + SPARE_ROWS
    return [
        PeakForm(data, prefix=f"row{place}", initial=peaks[place].model_dump() if place < len(peaks) else {})
        for place in range(min(count, MOST_ROWS))
    ]


def peaks_of(rows: list[PeakForm]) -> tuple[Peak, ...]:
    """Give the peaks that were typed, in order, one a day."""
    typed = [row.cleaned_data for row in rows if row.cleaned_data.get("date")]
    found = {one["date"]: Peak(date=one["date"], size=one["size"] or "main") for one in typed}
    return tuple(found[day] for day in sorted(found))


class AwayForm(forms.Form):
    """Days on which one athlete cannot train; a row without a day is none."""

    date = forms.DateField(label=gettext_lazy("First day"), required=False, widget=_box())
    until = forms.DateField(label=gettext_lazy("Last day"), required=False, widget=_box())

    def clean(self) -> dict[str, Any]:
        """Hold the days beside each other."""
        data = super().clean() or {}
        if data.get("until") and not data.get("date") and "date" not in self.errors:
            self.add_error("date", _("Missing."))
        _rising(self, data)
        return data


def _rising(form: forms.Form, data: dict[str, Any]) -> None:
    first, last = data.get("date"), data.get("until")
    if first and last and last < first:
        form.add_error("until", _("Expected the first day or a later one."))


def away_forms(spans: tuple[Away, ...], data: QueryDict | None) -> list[AwayForm]:
    """Give a row for every absence, and some to spare."""
    typed = data.get("rows", "") if data is not None else ""
    count = int(typed) if typed.isdecimal() else len(spans) + SPARE_ROWS
    return [
        AwayForm(data, prefix=f"row{place}", initial=spans[place].model_dump() if place < len(spans) else {})
        for place in range(min(count, MOST_ROWS))
    ]


def away_of(rows: list[AwayForm]) -> tuple[Away, ...]:
    """Give the absences that were typed, in order."""
    typed = [row.cleaned_data for row in rows if row.cleaned_data.get("date")]
    found = {
        Away(date=one["date"], until=one["until"] if one["until"] != one["date"] else None) for one in typed
    }
    return tuple(sorted(found, key=lambda one: one.model_dump_json()))
