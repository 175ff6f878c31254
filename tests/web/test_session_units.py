"""Loads are read and shown in the person's unit, and kept in kilograms."""

from __future__ import annotations

import re

import pytest

from field_entries import client, here, stored
from invented_squads import Squads
from speedloom.store import models

GYM = "sessions/2026-01-21/?on=2026-01-21"
SQUAT = "mila-252"


@pytest.mark.parametrize(
    ("typed", "kg", "shown"),
    [
        ("5 x 185", 83.91, "5 x 185"),
        ("5 x 159.8", 72.5, "5"),
        ("5 x 80 kg", 80.0, "5 x 176.4"),
        ("6", 72.5, "6"),
    ],
)
def test_pounds_are_read_shown_and_kept_in_kilograms(
    squads: Squads, typed: str, kg: float, shown: str
) -> None:
    """72.5 kg are written, 159.8 lb: typing that load again is that load, not a rounded one."""
    models.Person.objects.filter(login="assistant").update(mass_unit="lb", length_unit="yd")
    found = client(squads.by_role["assistant"])
    page = found.get(here(squads, GYM)).content.decode()
    assert "159.8 lb" in page
    assert "kg_per_unit&quot;:0.45359237" in page
    assert '<label for="now-kg">lb</label>' in page
    found.post(here(squads, GYM), {f"box:{SQUAT}.1.0": typed, "nonce": "one"})
    (one,) = stored(squads)
    assert one.results[0].load_kg == kg
    page = found.get(here(squads, GYM)).content.decode()
    assert f'name="was:{SQUAT}.1.0" value="{shown}"' in page


def test_a_question_speaks_in_the_persons_unit_and_a_correction_is_one(squads: Squads) -> None:
    models.Person.objects.filter(login="assistant").update(mass_unit="lb", length_unit="yd")
    found = client(squads.by_role["assistant"])
    typed = {f"box:{SQUAT}.1.0": "5 x 900", "nonce": "one"}
    page = found.post(here(squads, GYM), typed, follow=True).content.decode()
    assert re.search(r"900 lb\? 159\.8 lb is written", page)
    found.post(
        here(squads, GYM),
        {f"box:{SQUAT}.1.0": "5 x 185", f"was:{SQUAT}.1.0": "5 x 900", "nonce": "two"},
    )
    first, mended = stored(squads)
    assert (mended.replaces, mended.results[0].load_kg) == (first.id, 83.91)


def test_who_reads_kilograms_types_kilograms(squads: Squads) -> None:
    found = client(squads.by_role["assistant"])
    found.post(here(squads, GYM), {f"box:{SQUAT}.1.0": "5 x 80", "nonce": "one"})
    assert stored(squads)[0].results[0].load_kg == 80.0
