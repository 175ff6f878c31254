"""What a new squad takes."""

from __future__ import annotations

from zoneinfo import available_timezones

from django import forms
from django.utils.translation import gettext_lazy as _

from speedloom.store.squads import LONGEST_NAME


class NewSquadForm(forms.Form):
    """A name, and where its clock stands."""

    name = forms.CharField(label=_("Name of the squad"), max_length=LONGEST_NAME)
    zone = forms.ChoiceField(
        label=_("Time zone"),
        choices=[(name, name.replace("_", " ")) for name in sorted(available_timezones())],
        help_text=_("Where the times of your sessions hold."),
    )
