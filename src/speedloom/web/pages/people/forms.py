"""What is asked for an invitation and for a role."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, cast

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from speedloom.store.cards import ROLES, AthleteCard, Role

DOES: Mapping[Role, object] = {
    "owner": gettext_lazy("everything, people and erasing too"),
    "coach": gettext_lazy("plans, changes, hands out; sets restrictions and lifts their own"),
    "assistant": gettext_lazy("runs the session: writes results and tests, stops an athlete"),
    "clinician": gettext_lazy("sees health, sets and lifts restrictions, records clearance"),
    "athlete": gettext_lazy("sees and writes what is their own, and nobody else's"),
    "viewer": gettext_lazy("looks, without health; changes nothing"),
}


class RoleForm(forms.Form):
    """Somebody's role, and whom of the squad it reaches."""

    role = forms.ChoiceField(
        label=gettext_lazy("Role"), help_text=gettext_lazy("What each role does stands below.")
    )
    athlete = forms.ChoiceField(
        label=gettext_lazy("Which athlete"),
        required=False,
        help_text=gettext_lazy("For the role athlete only: whose sessions and results they are."),
    )
    only = forms.MultipleChoiceField(
        label=gettext_lazy("Limited to"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=gettext_lazy("Nobody ticked: the whole squad."),
    )

    def __init__(
        self,
        *args: Any,  # noqa: ANN401 - Django's own
        roles: Sequence[Role],
        people: Sequence[AthleteCard],
        **more: Any,  # noqa: ANN401 - Django's own
    ) -> None:
        """Offer the roles that may be given, and the squad's athletes."""
        super().__init__(*args, **more)
        those = [(card.ref, card.name) for card in people]
        choices: dict[str, list[tuple[str, object]]] = {
            "role": [(role, role.capitalize()) for role in ROLES if role in roles],
            "athlete": [("", "–"), *those],
            "only": [*those],
        }
        for name, offered in choices.items():
            cast("forms.ChoiceField", self.fields[name]).choices = offered
        if tuple(roles) == ("athlete",) or not those:
            del self.fields["only"]

    def clean(self) -> dict[str, Any]:
        """Ask for an athlete where the role is one, and for none elsewhere."""
        data = super().clean() or {}
        if data.get("role") == "athlete" and not data.get("athlete"):
            self.add_error("athlete", _("Say which athlete of the squad this is."))
        if data.get("role") not in {"athlete", None} and data.get("athlete"):
            self.add_error("athlete", _("Only the role athlete has one; choose – here."))
        if data.get("role") in {"athlete", "owner"} and data.get("only"):
            self.add_error("only", _("An owner reaches everybody, an athlete only themselves: tick nobody."))
        return data

    @property
    def given(self) -> dict[str, Any]:
        """What was typed, as the store takes it."""
        data = self.cleaned_data
        return {
            "role": data["role"],
            "athlete": data["athlete"] or None,
            "only": tuple(data.get("only", ())),
        }


class InvitationForm(RoleForm):
    """Whom to invite, as what."""

    for_name = forms.CharField(
        label=gettext_lazy("For whom"),
        max_length=150,
        help_text=gettext_lazy("A name for your own list; the invited person chooses theirs."),
    )
    field_order = ("for_name", "role", "athlete", "only")
