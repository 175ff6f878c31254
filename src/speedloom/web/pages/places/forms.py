"""What is asked for a place and for kit; whatever is wrong is said at its field."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Container
from typing import Any, cast, get_args

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from speedloom.training.kit import Friction, Kit, Place
from speedloom.training.words import KitKind, PlaceKind
from speedloom.web.amounts import AmountField, speak
from speedloom.web.surfaces import SurfaceField
from speedloom.wording.names import place_name, word
from speedloom.wording.units import Units

PLACE_KINDS, KIT_KINDS = get_args(PlaceKind), get_args(KitKind)
WITH_EMPTY_MASS = frozenset({"sled", "barbell", "trap_bar"})
SPARE_ROWS, LEAST_ROWS, MOST_ROWS = 2, 6, 40
LONGEST_NAME = 40
_NO_LETTER = re.compile(r"[^a-z0-9-]+")


def ref_of(name: str) -> str:
    """Spell a name as it is stored.

    >>> ref_of("Spórts hall 2")
    'sports_hall_2'
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return _NO_LETTER.sub("_", plain).strip("_-")[:LONGEST_NAME]


class NamedForm(forms.Form):
    """What has a name of its own, given once."""

    name = forms.CharField(label=gettext_lazy("Name"), max_length=LONGEST_NAME)

    def __init__(
        self,
        *args: Any,  # noqa: ANN401 - Django's own
        units: Units,
        known: Container[str],
        ref: str | None,
        **more: Any,  # noqa: ANN401 - Django's own
    ) -> None:
        """Leave the name out where it was given before."""
        super().__init__(*args, **more)
        self.known, self.ref = known, ref
        if ref is not None:
            del self.fields["name"]
        speak(self, units)

    def clean_name(self) -> str:
        """Read a name that is not taken."""
        name = str(self.cleaned_data["name"])
        ref = ref_of(name)
        if not ref:
            raise forms.ValidationError(_("Expected a name with letters or digits, such as Sports hall."))
        if ref in self.known:
            raise forms.ValidationError(_("There is one of this name already; choose another."))
        return ref


class PlaceForm(NamedForm):
    """A hall, pitch, track or gym."""

    kind = forms.ChoiceField(
        label=gettext_lazy("What it is"),
        choices=[(kind, word(kind)) for kind in PLACE_KINDS],
        help_text=gettext_lazy("It decides which exercises can be done there."),
    )
    surface = SurfaceField(
        label=gettext_lazy("Surface"),
        required=False,
        max_length=60,
        help_text=gettext_lazy("What is run on, such as sprung wood."),
    )
    straight_m = AmountField(
        label=gettext_lazy("Straight"),
        unit="m",
        most=1000,
        required=False,
        help_text=gettext_lazy("Its whole length, run-out included."),
    )
    run_out_m = AmountField(
        label=gettext_lazy("Run-out"),
        unit="m",
        most=100,
        required=False,
        help_text=gettext_lazy("Kept free behind the last metre run hard."),
    )
    lanes = forms.IntegerField(
        label=gettext_lazy("Lanes"),
        required=False,
        min_value=1,
        max_value=50,
        help_text=gettext_lazy("How many can run side by side."),
    )

    def __init__(self, *args: Any, **more: Any) -> None:  # noqa: ANN401 - Django's own
        """Know the surface the place has."""
        super().__init__(*args, **more)
        cast("SurfaceField", self.fields["surface"]).known = (self.initial.get("surface"),)

    def clean(self) -> dict[str, Any]:
        """Hold the run-out beside the straight."""
        data = super().clean() or {}
        straight, run_out = data.get("straight_m"), data.get("run_out_m")
        if straight is not None and run_out is not None and run_out >= straight:
            self.add_error("run_out_m", _("Expected less than the straight: it is a part of it."))
        return data

    def place(self) -> Place:
        """Give the place with what was typed."""
        data = self.cleaned_data
        return Place(
            ref=self.ref or data["name"],
            kind=data["kind"],
            surface=data["surface"] or None,
            straight_m=data["straight_m"],
            run_out_m=data["run_out_m"],
            lanes=data["lanes"],
        )


class KitForm(NamedForm):
    """A piece of kit, or several alike, at one place."""

    kind = forms.ChoiceField(
        label=gettext_lazy("What it is"), choices=[(kind, word(kind)) for kind in KIT_KINDS]
    )
    place = forms.ChoiceField(label=gettext_lazy("Where it stands"))
    count = forms.IntegerField(label=gettext_lazy("How many alike"), min_value=1, max_value=500, initial=1)
    empty_kg = AmountField(
        label=gettext_lazy("Empty"),
        unit="kg",
        most=300,
        required=False,
        help_text=gettext_lazy("Mass of one without plates; bars and sleds need it."),
    )
    height_m = AmountField(
        label=gettext_lazy("Height"),
        unit="m",
        most=3,
        required=False,
        help_text=gettext_lazy("Of a box or hurdle, such as 0.4 m."),
    )
    pieces = forms.ChoiceField(
        label=gettext_lazy("The masses below are"),
        choices=[
            ("plates", gettext_lazy("plates, for each one")),
            ("fixed", gettext_lazy("fixed weights")),
        ],
    )
    friction = forms.ChoiceField(
        label=gettext_lazy("Sled friction"),
        choices=[
            ("", gettext_lazy("not a sled, or not known")),
            ("range", gettext_lazy("a range, judged")),
            ("timed", gettext_lazy("a value from timed runs")),
        ],
        required=False,
        help_text=gettext_lazy(
            "Between sled and floor; published values lie from 0.21 to 0.58 (Linthorne and Cooper 2013)."
        ),
    )
    low = AmountField(label=gettext_lazy("Range, least"), unit="1", most=1.5, required=False)
    high = AmountField(label=gettext_lazy("Range, most"), unit="1", most=1.5, required=False)
    value = AmountField(label=gettext_lazy("Timed value"), unit="1", most=1.5, required=False)
    se = AmountField(label=gettext_lazy("Its standard error"), unit="1", most=1, required=False)

    def __init__(self, *args: Any, places: tuple[str, ...], **more: Any) -> None:  # noqa: ANN401 - Django's own
        """Offer the squad's places."""
        super().__init__(*args, **more)
        field = self.fields["place"]
        if isinstance(field, forms.ChoiceField):
            field.choices = [(place, place_name(place)) for place in places]

    def clean(self) -> dict[str, Any]:
        """Ask for what the kind needs, and for one form of friction."""
        data = super().clean() or {}
        if data.get("kind") in WITH_EMPTY_MASS and data.get("empty_kg") is None and not self.errors:
            self.add_error("empty_kg", _("Missing: loads are reckoned from it."))
        for name in {"range": ("low", "high"), "timed": ("value", "se")}.get(data.get("friction", ""), ()):
            if data.get(name) is None and name not in self.errors:
                self.add_error(name, _("Missing."))
        low, high = data.get("low"), data.get("high")
        if data.get("friction") == "range" and low is not None and high is not None and low >= high:
            self.add_error("high", _("Expected more than the least."))
        return data

    def kit(self, pieces: tuple[tuple[float, int], ...], *, before: Kit | None) -> Kit:
        """Give the kit with what was typed."""
        data = self.cleaned_data
        fixed = data["pieces"] == "fixed"
        return Kit(
            ref=self.ref or data["name"],
            kind=data["kind"],
            place=data["place"],
            count=data["count"],
            empty_kg=None if fixed and pieces else data["empty_kg"],
            plates_kg=() if fixed else pieces,
            weights_kg=pieces if fixed else (),
            height_m=data["height_m"],
            friction=self._friction(before.friction if before else None),
        )

    def _friction(self, before: Friction | None) -> Friction | None:
        data = self.cleaned_data
        if data["friction"] == "range":
            return Friction(low=data["low"], high=data["high"])
        if data["friction"] == "timed":
            # The range that was known before the runs stays beside the value.
            low, high = (before.low, before.high) if before else (None, None)
            return Friction(value=data["value"], se=data["se"], low=low, high=high)
        return None


def first_kit(kit: Kit) -> dict[str, Any]:
    """Give what the form holds of kit that is there."""
    friction = kit.friction
    known = "" if friction is None else "range" if friction.value is None else "timed"
    inner = friction.model_dump() if friction else {}
    return {
        **kit.model_dump(exclude={"friction"}),
        **inner,
        "friction": known,
        "pieces": "fixed" if kit.weights_kg else "plates",
    }


class PiecesForm(forms.Form):
    """One mass and how many there are of it."""

    mass = AmountField(label=gettext_lazy("Mass"), unit="kg", least=0.1, most=200, required=False)
    pieces = forms.IntegerField(label=gettext_lazy("Pieces"), required=False, min_value=1, max_value=500)

    def clean(self) -> dict[str, Any]:
        """Ask for the other half of a row that was begun."""
        data = super().clean() or {}
        for name, other in (("mass", "pieces"), ("pieces", "mass")):
            if data.get(other) is not None and data.get(name) is None and name not in self.errors:
                self.add_error(name, _("Missing."))
        return data


def pieces_forms(kit: Kit | None, data: QueryDict | None, *, units: Units) -> list[PiecesForm]:
    """Give a row for every mass, and some to spare."""
    stored = (kit.plates_kg or kit.weights_kg) if kit else ()
    typed = data.get("rows", "") if data is not None else ""
    count = int(typed) if typed.isdecimal() else max(LEAST_ROWS, len(stored) + SPARE_ROWS)
    rows = []
    for place in range(min(count, MOST_ROWS)):
        first = dict(zip(("mass", "pieces"), stored[place], strict=True)) if place < len(stored) else {}
        row = PiecesForm(data, prefix=f"row{place}", initial=first)
        speak(row, units)
        rows.append(row)
    return rows


def pieces_of(rows: list[PiecesForm]) -> tuple[tuple[float, int], ...]:
    """Give the masses that were typed, heaviest first."""
    found = [(row.cleaned_data["mass"], row.cleaned_data["pieces"]) for row in rows]
    return tuple(sorted(((mass, pieces) for mass, pieces in found if mass is not None), reverse=True))
