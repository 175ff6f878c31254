"""What is asked to set a restriction, to lift one, and to record a clearance."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from datetime import date
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from speedloom.store.cards import Actor
from speedloom.store.clearances import AFTER
from speedloom.training.athlete import Limit, Restriction, Screening
from speedloom.web.pages.restrictions.limit_form import LimitForm, chosen_limits
from speedloom.wording.athlete_restrictions import AFTER_NAMES
from speedloom.wording.units import Units

STARTS: Mapping[str, tuple[object, tuple[Limit, ...]]] = {
    "stop": (gettext_lazy("Stop everything: no training at all"), (Limit(what="minutes", at_most=0),)),
    "easy_runs": (
        gettext_lazy("No running above 80 % of top speed"),
        (Limit(what="share_vmax", at_most=0.8),),
    ),
    "no_runs": (
        gettext_lazy("No running"),
        (
            Limit(what="share_vmax", at_most=0),
            Limit(what="sets", at_most=0, method="change_of_direction"),
        ),
    ),
    "no_jumps": (
        gettext_lazy("No jumps and no landings"),
        (
            Limit(what="sets", at_most=0, method="plyometric"),
            Limit(what="sets", at_most=0, tag="landing"),
        ),
    ),
    "no_heavy": (
        gettext_lazy("No lifting above 60 % of the one-repetition maximum"),
        (Limit(what="share_1rm", at_most=0.6),),
    ),
}
"""What is set in one step; everything else is said by the limits of the form."""
OWN = "own"
LONGEST_REF = 40


class RestrictionForm(forms.Form):
    """What is limited, from when, until when."""

    start = forms.ChoiceField(
        label=gettext_lazy("What"),
        widget=forms.RadioSelect,
        choices=[
            *((name, label) for name, (label, _limits) in STARTS.items()),
            (OWN, gettext_lazy("Something else, said below")),
        ],
        error_messages={"required": gettext_lazy("Choose one, or say it below.")},
    )
    first = forms.DateField(
        label=gettext_lazy("From"), widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d")
    )
    until = forms.DateField(
        label=gettext_lazy("Last day"),
        required=False,
        widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
        help_text=gettext_lazy("Left empty it holds until somebody who may lifts it."),
    )

    def __init__(
        self,
        data: Any = None,  # noqa: ANN401 - Django's own
        *,
        units: Units,
        today: date,
        limits: int = 3,
    ) -> None:
        """Make the form with its own limits below."""
        super().__init__(data, initial={"first": today})
        self.today = today
        self.limits = tuple(LimitForm(data, prefix=f"limit{number}", units=units) for number in range(limits))

    def clean(self) -> dict[str, Any]:
        """Look at the days together, and at the limits that were typed."""
        found = super().clean() or {}
        first, until = found.get("first"), found.get("until")
        if first and until and until < first:
            self.add_error("until", _("Expected a day from %(first)s on, got %(until)s.") % found)
        elif until and until < self.today:
            self.add_error("until", _("This day has passed already; the restriction would not hold."))
        if found.get("start") == OWN:
            valid = [form.is_valid() for form in self.limits]
            whole = all(valid)
            if whole and not chosen_limits(self.limits):
                self.add_error("start", _("Say what is limited in the fields below, or choose one of these."))
            elif not whole:
                self.add_error("start", _("One of the limits below is not clear yet."))
        return found

    def restriction(self, *, actor: Actor, clinician: bool, taken: Collection[str]) -> Restriction:
        """Give the restriction that was asked for, under a name that is free."""
        start = self.cleaned_data["start"]
        limits = chosen_limits(self.limits) if start == OWN else STARTS[start][1]
        return Restriction.model_validate(
            {
                "ref": _free(f"{limits[0].what}_{self.today:%Y%m%d}", taken),
                "limits": limits,
                "from": self.cleaned_data["first"],
                "until": self.cleaned_data["until"],
                "set_by": actor.name,
                "set_as": "clinician" if clinician else "coach",
                "set_on": self.today,
            }
        )


def _free(wanted: str, taken: Iterable[str]) -> str:
    used, number, name = set(taken), 1, wanted
    while name in used:
        number += 1
        name = f"{wanted}_{number}"
    return name[:LONGEST_REF]


class ClearanceForm(forms.Form):
    """A written clearance: after what, whose, of which day."""

    after = forms.ChoiceField(
        label=gettext_lazy("Cleared"),
        choices=[(after, AFTER_NAMES[after]) for after in AFTER],
    )
    written_by = forms.CharField(
        label=gettext_lazy("Written by"),
        max_length=150,
        help_text=gettext_lazy("The doctor or physiotherapist who signed it."),
    )
    written_on = forms.DateField(
        label=gettext_lazy("Dated"), widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d")
    )


class ScreeningForm(forms.Form):
    """What a careful coach asks before hard work."""

    pain = forms.ChoiceField(
        label=gettext_lazy("Does anything hurt?"),
        choices=[("no", gettext_lazy("No")), ("yes", gettext_lazy("Yes"))],
    )
    cleared = forms.ChoiceField(
        label=gettext_lazy("Is hard work cleared?"),
        choices=[("yes", gettext_lazy("Yes")), ("no", gettext_lazy("No: no programme is made until it is"))],
    )
    last_hard_sprint = forms.DateField(
        label=gettext_lazy("Last hard sprint"),
        required=False,
        widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
    )

    def __init__(self, *args: Any, may_clear: bool = True, **more: Any) -> None:  # noqa: ANN401 - Django's own
        """Leave the clearance out for whom it is not to give: a clinician has said no."""
        super().__init__(*args, **more)
        if not may_clear:
            del self.fields["cleared"]

    def screening(self, *, today: date) -> Screening:
        """Give what was answered."""
        return Screening(
            on=today,
            pain=self.cleaned_data["pain"] == "yes",
            cleared=self.cleaned_data.get("cleared") == "yes",
            last_hard_sprint=self.cleaned_data["last_hard_sprint"],
        )


def first_answers(asked: Screening | None) -> dict[str, object]:
    """Give what was answered last as a form's first values."""
    if asked is None:
        return {}
    return {
        "pain": "yes" if asked.pain else "no",
        "cleared": "yes" if asked.cleared else "no",
        "last_hard_sprint": asked.last_hard_sprint,
    }
