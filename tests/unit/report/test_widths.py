"""Widths of texts, held to the font itself as typst measures it."""

from __future__ import annotations

import json
from importlib.resources import as_file, files

import pytest
import typst

from speedloom.report.charts.widths import SEMIBOLD, text_width

TEXTS = (
    "20–30 m · run-in + 20 m",
    "Mesocycle 2 · specific",
    "alternate bound, hurdle hop with stop",
    "25 % slower",
    "Jump squat, body weight, paused",
    "Copenhagen adduction, knee held",
)


def measured(text: str, *, weight: str) -> float:
    set_text = f'text(font: "Source Sans Pro", size: 100pt, weight: "{weight}", kerning: false, "{text}")'
    told = f"#context [#metadata(measure({set_text}).width.pt()) <w>]"
    with as_file(files("font_source_sans_pro").joinpath("files")) as fonts:
        answer = typst.query(told.encode(), "<w>", field="value", one=True, font_paths=[str(fonts)])
    return float(json.loads(answer))


@pytest.mark.parametrize("text", TEXTS)
def test_a_text_is_never_wider_than_said(text: str) -> None:
    real = measured(text, weight="regular")
    assert real <= text_width(text, size=100.0) <= 1.04 * real


@pytest.mark.parametrize("text", TEXTS)
def test_a_semibold_text_is_never_wider_than_said(text: str) -> None:
    real = measured(text, weight="semibold")
    assert real <= text_width(text, size=100.0, stretch=SEMIBOLD) <= 1.08 * real


def test_marked_letters_are_as_wide_as_plain_ones() -> None:
    assert text_width("Brzęczek, Ángel", size=10.0) == text_width("Brzeczek, Angel", size=10.0)


def test_an_unknown_sign_is_taken_as_wide() -> None:
    assert text_width("漢", size=10.0) == 8.5
