"""What is asked for a change of the rulebook."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy

from speedloom.exchange.amount import amount
from speedloom.training.rule import RuleChange, RuleNumber
from speedloom.wording.rules import amount_text

READ = ("share", "kg", "m", "s")
"""Units in which an amount can be typed with its unit; others are taken as they are named."""


class ChangeForm(forms.Form):
    """A new value for one number, and why."""

    value = forms.CharField(label=gettext_lazy("New value"), max_length=20)
    reason = forms.CharField(
        label=gettext_lazy("Why"),
        min_length=3,
        max_length=500,
        help_text=gettext_lazy("Printed with every programme."),
    )
    approved_by = forms.CharField(
        label=gettext_lazy("Who allows it"),
        required=False,
        max_length=150,
        help_text=gettext_lazy(
            "A name is needed to loosen a hard health rule; to make one stricter it is not."
        ),
    )

    def __init__(self, *args: Any, number: RuleNumber, **more: Any) -> None:  # noqa: ANN401 - Django's own
        """Name the unit at the value."""
        super().__init__(*args, **more)
        self.number = number
        self.fields["value"].label = f"{self.fields['value'].label}, {self.spoken}".rstrip(", ")

    @property
    def spoken(self) -> str:
        """The unit in which a bare number is taken; shares are in per cent, as they are shown."""
        return "%" if self.number.unit == "share" else amount_text(0, self.number.unit)[1:].strip()

    def clean_value(self) -> float:
        """Read the value."""
        text = str(self.cleaned_data["value"]).strip().replace("−", "-")
        known = self.number.unit in READ
        bare = f"{text} %" if self.number.unit == "share" and text[-1:].isdecimal() else text
        if not known:
            bare = text.removesuffix(self.spoken).strip()
        try:
            return amount(bare, unit=self.number.unit if known else "1")
        except ValueError as error:
            raise forms.ValidationError(str(error).capitalize()) from error

    def change(self, rule: str, name: str) -> RuleChange:
        """Give the change as it stands in the brief."""
        data = self.cleaned_data
        return RuleChange(
            rule=rule,
            number=name,
            value=data["value"],
            reason=" ".join(data["reason"].split()),
            approved_by=data["approved_by"].strip(),
        )


def first_change(number: RuleNumber, change: RuleChange | None) -> dict[str, Any]:
    """Give what the form holds before anything was typed."""
    value = change.value if change else number.value
    shown = f"{100 * value:.6g}" if number.unit == "share" else f"{value:.6g}"
    return {
        "value": shown,
        "reason": change.reason if change else "",
        "approved_by": change.approved_by if change else "",
    }
