"""How a day's runs were timed: asked once above the table, for every row whose own cell is empty."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from typing import Any, cast

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext_lazy as _

from speedloom.exchange.headings import heading_of
from speedloom.training.kit import Place
from speedloom.training.measurement import Trial
from speedloom.web.surfaces import SurfaceField
from speedloom.wording.names import word

_DISTANCE = re.compile(r"[\d.,]+ (m|yd)")
TIMINGS = {
    "gates": _("timing gates"),
    "hand": _("stopwatch"),
    "radar": _("radar"),
    "laser": _("laser"),
    "video": _("video"),
    "encoder": _("encoder"),
}
CLOCKS = {
    "behind": _("first gate, foot behind it"),
    "movement": _("the athlete's first movement"),
    "gun": _("a gun or a call"),
    "unknown": _("I do not know"),
}
STARTS = {
    "standing": _("standing"),
    "three_point": _("three points"),
    "block": _("block"),
    "flying": _("flying"),
}


class HowForm(forms.Form):
    """What holds for all rows."""

    date = forms.DateField(
        label=_("Day"), required=False, widget=forms.DateInput({"type": "date"}, "%Y-%m-%d")
    )
    timing = forms.ChoiceField(label=_("Timed with"), required=False, choices=list(TIMINGS.items()))
    clock = forms.ChoiceField(
        label=_("What starts the clock"), required=False, choices=[("", "–"), *CLOCKS.items()]
    )
    behind_m = forms.FloatField(label=_("Foot behind gate, m"), required=False, min_value=0, max_value=20)
    start = forms.ChoiceField(label=_("Start"), required=False, choices=list(STARTS.items()))
    place = forms.ChoiceField(label=_("Place"), required=False)
    surface = SurfaceField(
        label=_("Surface"), required=False, max_length=60, help_text=_("Left empty: the place's own.")
    )

    def __init__(self, *args: Any, places: Sequence[Place], **kwargs: Any) -> None:  # noqa: ANN401 - Django's own
        """Offer the squad's places."""
        super().__init__(*args, **kwargs)
        self.holds_runs = False
        self.as_on: date | None = None
        """The day of the test whose way of timing stands in the form before anything was typed."""
        self._surfaces = {place.ref: place.surface for place in places}
        cast("SurfaceField", self.fields["surface"]).known = self._surfaces.values()
        field = cast("forms.ChoiceField", self.fields["place"])
        field.choices = [("", "–"), *((ref, word(ref)) for ref in self._surfaces)]

    def clean(self) -> dict[str, Any]:
        """Hold the clock and the foot beside each other."""
        data = super().clean() or {}
        if self.holds_runs and not data.get("clock") and "clock" not in self.errors:
            self.add_error(
                "clock", _("Please choose: it is never guessed. “I do not know” is an answer too.")
            )
        if data.get("clock") == "behind" and data.get("behind_m") is None and "behind_m" not in self.errors:
            self.add_error("behind_m", _("Expected the metres from the front foot to the first gate."))
        return data

    def all_rows(self) -> dict[str, str]:
        """Give what was said as cells of the tests file."""
        data = self.cleaned_data
        behind = data.get("behind_m")
        return {
            "date": data["date"].isoformat() if data.get("date") else "",
            "timing": data.get("timing", ""),
            "clock": data.get("clock", ""),
            "behind_m": "" if behind is None else f"{behind:g}",
            "start": data.get("start", ""),
            "place": data.get("place", ""),
            "surface": data.get("surface") or self._surfaces.get(data.get("place", "")) or "",
        }


def holds_runs(header: Sequence[str]) -> bool:
    """Say whether a table has times over distances, and no column of its own for what started the clock."""
    columns = [heading_of(text).column for text in header]
    return "clock" not in columns and any(_DISTANCE.fullmatch(column) for column in columns)


def how_form(data: QueryDict | None, *, places: Sequence[Place], last: Trial | None, today: date) -> HowForm:
    """Give the form; before anything was typed it holds today, timed as the last time."""
    first: dict[str, object] = {"date": today, "timing": "gates", "start": "standing"}
    if last is not None:
        known = ("timing", "clock", "behind_m", "start", "place", "surface")
        first |= {name: getattr(last, name) for name in known if getattr(last, name) is not None}
    form = HowForm(data, initial=first, places=places)
    form.as_on = last.date if last is not None and data is None else None
    return form
