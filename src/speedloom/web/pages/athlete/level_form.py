"""The level in each method: chosen, or proposed from age and training years."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext as _

from speedloom.training.athlete import Athlete
from speedloom.training.words import LEVELS, METHODS, Level
from speedloom.wording.names import METHOD_NAMES


class LevelForm(forms.Form):
    """A choice a method."""

    def __init__(self, *args: Any, proposed: Level, **kwargs: Any) -> None:  # noqa: ANN401 - Django's own
        """Make a field a method; what would be proposed stands at the empty choice."""
        super().__init__(*args, **kwargs)
        choices = [("", _("proposed: %(level)s") % {"level": proposed}), *((one, one) for one in LEVELS)]
        for method in METHODS:
            self.fields[method] = forms.ChoiceField(
                label=METHOD_NAMES[method], required=False, choices=choices
            )

    def changed(self, was: Athlete) -> Athlete:
        """Give an athlete with the levels that were chosen."""
        chosen = {method: level for method in METHODS if (level := self.cleaned_data.get(method))}
        return was.model_copy(update={"level": chosen})
