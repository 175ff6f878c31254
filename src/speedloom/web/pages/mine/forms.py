"""What an athlete is asked on their own page."""

from __future__ import annotations

from datetime import date
from typing import Any, cast

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from speedloom.training.log import LogEntry
from speedloom.training.wellness import HIGHEST, LOWEST, Wellness
from speedloom.wording.athlete_mine import (
    DAY_NOTE_ASKS,
    DAY_NOTE_HELP,
    EFFORT_ASKS,
    EFFORT_HELP,
    MINUTES_ASKS,
    NOTE_ASKS,
    NOTE_HELP,
    SCALES,
)
from speedloom.workflows.log_limits import LIMITS

ALL = "all"
LONGEST_NOTE = 2000
"""As long as the words about a session may be [characters]."""
ANSWERS = [(str(number), str(number)) for number in range(LOWEST, HIGHEST + 1)]


class AnswersForm(forms.Form):
    """Five answers of one day, each with both ends in words."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401 - Django's own
        """Make a question a scale."""
        super().__init__(*args, **kwargs)
        for scale in SCALES:
            self.fields[scale.name] = forms.ChoiceField(
                label=scale.asks,
                choices=ANSWERS,
                widget=forms.RadioSelect,
                error_messages={"required": _("Answer this one as well, or send none of them.")},
            )

    def rows(self) -> list[tuple[forms.BoundField, str, str]]:
        """Give each question with its two ends."""
        return [(self[scale.name], scale.low, scale.high) for scale in SCALES]

    def wellness(self, athlete: str, *, on: date) -> Wellness:
        """Give what was answered."""
        return Wellness(
            athlete=athlete, date=on, **{scale.name: int(self.cleaned_data[scale.name]) for scale in SCALES}
        )


class StopForm(forms.Form):
    """What is stopped, and the athlete's own words."""

    what = forms.ChoiceField(label=gettext_lazy("What do you stop?"), widget=forms.RadioSelect)
    note = forms.CharField(
        label=gettext_lazy("Where and how does it hurt?"),
        required=False,
        max_length=500,
        widget=forms.Textarea({"rows": 2}),
        help_text=gettext_lazy("Not needed. Your coaches and the clinician read it."),
    )

    def __init__(
        self,
        data: Any = None,  # noqa: ANN401 - Django's own
        *,
        lines: list[tuple[str, str]],
        written: bool,
    ) -> None:
        """Offer everything, or one exercise of today; own words where there is a log to keep them in."""
        super().__init__(data, initial={"what": ALL})
        everything = (ALL, _("Everything: no more training until it is lifted"))
        cast("forms.ChoiceField", self.fields["what"]).choices = [everything, *lines]
        if not written:
            del self.fields["note"]

    @property
    def said(self) -> dict[str, str]:
        """What is stopped, a line or everything, and the athlete's words."""
        what = self.cleaned_data["what"]
        return {"line": "" if what == ALL else what, "note": self.cleaned_data.get("note", "")}


class NoteForm(forms.Form):
    """What an athlete says of a day, with a session or without one."""

    text = forms.CharField(
        label=DAY_NOTE_ASKS,
        max_length=LONGEST_NOTE,
        widget=forms.Textarea({"rows": 3}),
        help_text=DAY_NOTE_HELP,
        error_messages={"required": gettext_lazy("Nothing was written; a few words are enough.")},
    )


def first_values(whole: LogEntry | None) -> dict[str, object]:
    """Give what stands about the whole session as a form's first values, numbers as people write them."""
    if whole is None:
        return {}
    numbers = {name: getattr(whole, name) for name in ("effort", "minutes")}
    said = {name: f"{value:g}" for name, value in numbers.items() if value is not None}
    return {**said, "note": whole.note}


class AfterForm(forms.Form):
    """The session as a whole: how hard, how long, in own words."""

    effort = forms.FloatField(
        label=EFFORT_ASKS,
        required=False,
        min_value=LIMITS["effort"].low,
        max_value=LIMITS["effort"].high,
        localize=True,
        widget=forms.TextInput({"inputmode": "decimal", "autocomplete": "off"}),
        help_text=EFFORT_HELP,
    )
    minutes = forms.FloatField(
        label=MINUTES_ASKS,
        required=False,
        min_value=LIMITS["minutes"].low,
        max_value=LIMITS["minutes"].high,
        localize=True,
        widget=forms.TextInput({"inputmode": "numeric", "autocomplete": "off"}),
    )
    note = forms.CharField(
        label=NOTE_ASKS,
        required=False,
        max_length=2000,
        widget=forms.Textarea({"rows": 3}),
        help_text=NOTE_HELP,
    )

    @property
    def said(self) -> dict[str, object]:
        """What was said, as an entry holds it."""
        return {name: self.cleaned_data[name] for name in ("effort", "minutes", "note")}
