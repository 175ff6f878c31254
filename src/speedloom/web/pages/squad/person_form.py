"""What is known of a person: asked when somebody is new, and whenever it changes."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from speedloom.training.athlete import Athlete

_LONGEST_REF = 36
FIELDS = ("name", "born", "sex", "mass_kg", "height_m", "training_years")


class PersonForm(forms.Form):
    """A person; only the name is needed."""

    name = forms.CharField(label=_("Name"), max_length=100)
    born = forms.DateField(
        label=_("Born"), required=False, widget=forms.DateInput({"type": "date"}, "%Y-%m-%d")
    )
    sex = forms.ChoiceField(
        label=_("Sex"), required=False, choices=[("", "–"), ("female", _("female")), ("male", _("male"))]
    )
    mass_kg = forms.FloatField(label=_("Mass, kg"), required=False, min_value=25, max_value=200)
    height_m = forms.FloatField(label=_("Height, m"), required=False, min_value=1.2, max_value=2.3)
    training_years = forms.FloatField(label=_("Training years"), required=False, min_value=0, max_value=60)

    def typed(self) -> dict[str, object]:
        """Give what was typed, without what was left empty."""
        return {name: self.cleaned_data[name] for name in FIELDS if self.cleaned_data[name] not in (None, "")}

    def person(self, ref: str, *, known: Mapping[str, object] | None = None) -> Athlete:
        """Give a new athlete; what was not typed is taken from what is known already."""
        return Athlete.model_validate({**(known or {}), **self.typed(), "ref": ref})

    def changed(self, was: Athlete) -> Athlete:
        """Give an athlete with what was typed; an emptied field is not known any more."""
        fresh = dict.fromkeys(FIELDS) | self.typed()
        return was.model_copy(update=fresh)


def first_values(athlete: Athlete) -> dict[str, Any]:
    """Give what the form holds before anything was typed."""
    return {name: getattr(athlete, name) for name in FIELDS} | {"name": athlete.title}


def new_ref(name: str, taken: Iterable[str]) -> str:
    """Make a short name of letters and digits that nobody of the squad has.

    >>> new_ref("Zoë Achterberg", ()), new_ref("Mila", ("mila",))
    ('zoe_achterberg', 'mila_2')
    """
    flat = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    begin = re.sub(r"[^a-z0-9]+", "_", flat).strip("_")[:_LONGEST_REF] or "athlete"
    used = set(taken)
    number, ref = 1, begin
    while ref in used:
        number += 1
        ref = f"{begin}_{number}"
    return ref
