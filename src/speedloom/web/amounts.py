"""Form fields for amounts: typed in the person's units or with a unit, kept in kilograms and metres."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext as _

from speedloom.exchange.amount import amount
from speedloom.wording.units import Units, length_number, mass_number, number, quantity


class AmountField(forms.CharField):
    """A mass, a length or a plain number; a bare number is in the person's own unit."""

    def __init__(self, *, unit: str, least: float = 0.0, most: float, **more: Any) -> None:  # noqa: ANN401 - Django's own
        """Keep what is measured and between what it may lie, in the unit that is stored."""
        widget = forms.TextInput({"inputmode": "decimal", "autocomplete": "off"})
        super().__init__(**{"widget": widget, "max_length": 20, **more})
        self.unit, self.least, self.most = unit, least, most
        self.units = Units()
        self.was: float | None = None

    @property
    def spoken(self) -> str:
        """The unit of a bare number."""
        return {"kg": self.units.mass, "m": self.units.length}.get(self.unit, "")

    def prepare_value(self, value: Any) -> Any:  # noqa: ANN401 - Django's own
        """Write a stored number as the person reads it; what was typed stays as it is."""
        if not isinstance(value, float | int):
            return value
        if self.unit == "kg":
            return mass_number(value, units=self.units)
        return length_number(value, units=self.units) if self.unit == "m" else number(value, decimals=3)

    def clean(self, value: Any) -> Any:  # noqa: ANN401 - Django's own
        """Read the number, or say what was expected."""
        text = super().clean(value)
        if not text:
            return None
        if self.was is not None and text == self.prepare_value(self.was):
            return self.was  # 2.5 kg is read as 5.5 lb: what nobody typed anew is not rounded again
        bare = f"{text} {self.spoken}" if text[-1].isdecimal() else text
        try:
            found = amount(bare.strip(), unit=self.unit)
        except ValueError as error:
            raise forms.ValidationError(_("%s") % str(error).capitalize()) from error
        if not self.least <= found <= self.most:
            ends = [quantity(end, self.unit, units=self.units) for end in (self.least, self.most)]
            raise forms.ValidationError(
                _("Expected %(low)s to %(high)s, got %(typed)s.")
                % {"low": ends[0], "high": ends[1], "typed": text}
            )
        return found


def speak(form: forms.Form, units: Units) -> None:
    """Let the amounts of a form be written in the person's units, named in their labels."""
    for name, field in form.fields.items():
        if isinstance(field, AmountField):
            field.units, field.was = units, form.get_initial_for_field(field, name)
            if field.spoken:
                field.label = f"{field.label}, {field.spoken}"
