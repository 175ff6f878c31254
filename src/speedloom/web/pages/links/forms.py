"""What is asked for a link: what it shows, and of whom."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Literal, cast

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

Kind = Literal["feed", "sheet"]
KINDS = {
    "sheet": gettext_lazy("the week's sheet, for a phone or to print"),
    "feed": gettext_lazy("the trainings, for a calendar program"),
}


class LinkForm(forms.Form):
    """A new link."""

    kind = forms.ChoiceField(
        label=gettext_lazy("What it shows"), choices=list(KINDS.items()), widget=forms.RadioSelect
    )
    athlete = forms.ChoiceField(label=gettext_lazy("Of whom"), required=False)

    def __init__(self, *args: Any, people: Sequence[tuple[str, str]], squad: bool, **kwargs: Any) -> None:  # noqa: ANN401 - Django's own
        """Offer the athletes of the programme, and the whole squad where the person may."""
        super().__init__(*args, **kwargs)
        field = cast("forms.ChoiceField", self.fields["athlete"])
        field.choices = [*([("", _("the whole squad"))] if squad else []), *people]

    def clean(self) -> dict[str, Any]:
        """A sheet is one athlete's."""
        data = super().clean() or {}
        if data.get("kind") == "sheet" and not data.get("athlete") and "athlete" not in self.errors:
            self.add_error("athlete", _("Expected one athlete: a sheet shows one athlete and nobody else."))
        return data

    @property
    def given(self) -> tuple[Kind, str | None]:
        """What it shows, and of whom; None is the whole squad."""
        return cast("Kind", self.cleaned_data["kind"]), self.cleaned_data["athlete"] or None
