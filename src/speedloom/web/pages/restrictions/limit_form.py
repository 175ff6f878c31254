"""One limit of a restriction as a form: what, at most how much, and of which work only."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, cast, get_args

from django import forms
from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from speedloom.exchange.amount import amount
from speedloom.training.athlete import Limit
from speedloom.training.exercise import load_catalogue
from speedloom.training.words import LimitOf, LineMethod
from speedloom.wording.names import METHOD_NAMES, word
from speedloom.wording.units import Units

WHATS: Mapping[LimitOf, Promise] = {
    "share_vmax": gettext_lazy("Running speed (% of top speed)"),
    "distance_m": gettext_lazy("Length of a run"),
    "load_kg": gettext_lazy("Load"),
    "share_1rm": gettext_lazy("Lifting (% of the one-repetition maximum)"),
    "contacts": gettext_lazy("Foot contacts in a session"),
    "minutes": gettext_lazy("Minutes in a session"),
    "sets": gettext_lazy("Sets in a session"),
}
_MOST: Mapping[LimitOf, float] = {
    "share_vmax": 1.0,
    "share_1rm": 1.0,
    "distance_m": 1000.0,
    "load_kg": 500.0,
    "contacts": 2000.0,
    "minutes": 600.0,
    "sets": 200.0,
}
_WHOLE = frozenset({"contacts", "sets"})
_SHARES = frozenset({"share_vmax", "share_1rm"})
_PER_CENT = 100.0


class LimitForm(forms.Form):
    """One limit; empty it is none."""

    what = forms.ChoiceField(label=gettext_lazy("What is limited"), required=False)
    at_most = forms.CharField(
        label=gettext_lazy("At most"),
        required=False,
        max_length=20,
        widget=forms.TextInput({"inputmode": "decimal", "autocomplete": "off"}),
        help_text=gettext_lazy("0 is none at all."),
    )
    method = forms.ChoiceField(label=gettext_lazy("Only in this kind of work"), required=False)
    exercise = forms.ChoiceField(label=gettext_lazy("Only in this exercise"), required=False)
    tag = forms.ChoiceField(label=gettext_lazy("Only in exercises with"), required=False)
    side = forms.ChoiceField(
        label=gettext_lazy("Only on this side"),
        required=False,
        choices=[
            ("", gettext_lazy("both sides")),
            ("left", gettext_lazy("left")),
            ("right", gettext_lazy("right")),
        ],
    )

    def __init__(self, data: Any = None, *, prefix: str, units: Units) -> None:  # noqa: ANN401 - Django's own
        """Offer what can be limited, in the person's units."""
        super().__init__(data, prefix=prefix)
        self.units = units
        spoken = {"distance_m": units.length, "load_kg": units.mass}
        whats = [
            (what, f"{label}, {spoken[what]}" if what in spoken else str(label))
            for what, label in WHATS.items()
        ]
        catalogue = load_catalogue()
        tags = sorted({tag for exercise in catalogue.exercises for tag in exercise.tags})
        every = _("all work")
        offered: dict[str, list[tuple[str, str]]] = {
            "what": [("", "–"), *whats],
            "method": [("", every), *((one, METHOD_NAMES[one]) for one in get_args(LineMethod))],
            "exercise": [("", every), *sorted(
                ((one.ref, one.name) for one in catalogue.exercises), key=lambda pair: pair[1].casefold()
            )],
            "tag": [("", every), *((tag, word(tag)) for tag in tags)],
        }  # fmt: skip
        for name, choices in offered.items():
            cast("forms.ChoiceField", self.fields[name]).choices = choices

    def clean(self) -> dict[str, Any]:
        """Read the amount in the unit of what is limited."""
        found = super().clean() or {}
        what, typed = found.get("what"), str(found.get("at_most") or "").strip()
        if what and not typed:
            self.add_error("at_most", _("Say how much is allowed at most; 0 is none at all."))
        elif typed and not what and "what" not in self.errors:
            self.add_error("what", _("Say what this number limits."))
        elif what and typed:
            try:
                found["amount"] = _read(what, typed, units=self.units)
            except ValueError as error:
                text = str(error)
                self.add_error("at_most", f"{text[:1].upper()}{text[1:]}")
        return found

    @property
    def limit(self) -> Limit | None:
        """The limit, or None where nothing was asked for."""
        given = self.cleaned_data
        if not given.get("what"):
            return None
        narrowed = {name: given[name] or None for name in ("method", "exercise", "tag", "side")}
        return Limit.model_validate({"what": given["what"], "at_most": given["amount"], **narrowed})


def chosen_limits(forms_: Sequence[LimitForm]) -> tuple[Limit, ...]:
    """Give the limits that were typed, each once."""
    found: Iterable[Limit] = (limit for form in forms_ if (limit := form.limit))
    return tuple(dict.fromkeys(found))


def _read(what: LimitOf, typed: str, *, units: Units) -> float:
    if what in _SHARES:
        return _share(typed)
    unit = {"distance_m": units.length, "load_kg": units.mass}.get(what)
    bare = f"{typed} {unit}" if unit and typed[-1].isdecimal() else typed
    kind = {"distance_m": "m", "load_kg": "kg"}.get(what, "1")
    found = amount(bare, unit=kind)
    if not 0 <= found <= _MOST[what]:
        message = _("Expected 0 to %(most)g, got %(typed)s.") % {"most": _MOST[what], "typed": typed}
        raise ValueError(message)
    if what in _WHOLE and not found.is_integer():
        message = _("Expected a whole number, got %s.") % typed
        raise ValueError(message)
    return found


def _share(typed: str) -> float:
    plain = typed.removesuffix("%").strip()
    found = amount(plain, unit="1")
    # 0.8 may mean 80 % or nearly nothing: it is asked, not guessed.
    if not (found == 0 or (1 < found <= _PER_CENT) or (found == 1 and typed.endswith("%"))):
        message = _("Expected per cent from 0 to 100, such as 80, got %s.") % typed
        raise ValueError(message)
    return found / _PER_CENT
