"""A surface is read in words and kept as the data has it: friction belongs to one floor, by its name."""

from __future__ import annotations

from datetime import date

from django.http import QueryDict

from speedloom.training.kit import Place
from speedloom.web.pages.places.forms import PlaceForm
from speedloom.web.pages.tests.how_form import how_form
from speedloom.wording.units import Units

HALL = Place(ref="hall", kind="hall", surface="sprung_wood", straight_m=40, run_out_m=8)
TYPED = {"kind": "hall", "straight_m": "40", "run_out_m": "8", "lanes": ""}


def place_form(typed: dict[str, str] | None = None) -> PlaceForm:
    return PlaceForm(typed, initial=HALL.model_dump(), units=Units(), known=(), ref="hall")


def test_a_place_shows_its_surface_in_words_and_keeps_its_name() -> None:
    assert 'value="sprung wood"' in str(place_form()["surface"])
    for typed, kept in (("sprung wood", "sprung_wood"), ("Sprung wood", "sprung_wood"), ("turf", "turf")):
        form = place_form({**TYPED, "surface": typed})
        assert form.is_valid(), form.errors
        assert form.place().surface == kept


def test_a_test_on_a_known_surface_is_of_that_surface() -> None:
    typed = QueryDict("timing=gates&clock=gun&start=standing&surface=sprung+wood")
    form = how_form(typed, places=[HALL], last=None, today=date(2026, 1, 12))
    assert form.is_valid(), form.errors
    assert form.all_rows()["surface"] == "sprung_wood"
