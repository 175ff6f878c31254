"""The load lines as a picture: bars, two lines that are told apart without colour, days not written down."""

from __future__ import annotations

from datetime import date, timedelta
from importlib.resources import files
from itertools import pairwise

import pytest

from speedloom.report.charts.load_lines import LoadChart, load_lines_svg
from speedloom.report.charts.skins import SkinName
from speedloom.workflows.reviewed import LoadLines
from unit.report.svg_reading import SVG, parsed, texts

MONDAY = date(2026, 1, 12)


def chart(days: int = 14, *, first: date = MONDAY, missing: tuple[int, ...] = (2,)) -> LoadChart:
    loads = tuple(400.0 if day % 3 == 0 else 0.0 for day in range(days))
    flat = tuple(200.0 for _ in loads)
    line = LoadLines("ada", first, loads, flat, flat, missing)
    return LoadChart("Ada North: session load day by day", line, MONDAY)


def test_a_bar_a_day_with_a_load_and_a_sign_where_nothing_was_written() -> None:
    picture = parsed(load_lines_svg(chart()))
    told = [found.text for found in picture.iter(f"{SVG}title")][1:]
    assert told == [
        "Mon 12 Jan: 400",
        "Wed 14 Jan: not written down",
        "Thu 15 Jan: 400",
        "Sun 18 Jan: 400",
        "Wed 21 Jan: 400",
        "Sat 24 Jan: 400",
    ]
    assert texts(picture).count("?") == 1


def test_bars_are_as_high_as_their_loads() -> None:
    picture = parsed(load_lines_svg(chart(), height=220.0))
    bars = [found for found in picture.iter(f"{SVG}rect") if found.find(f"{SVG}title") is not None]
    axis = [found for found in picture.iter(f"{SVG}text") if found.attrib.get("text-anchor") == "end"]
    at = {found.text: float(found.attrib["y"]) for found in axis}
    assert {round(float(bar.attrib["height"]), 1) for bar in bars} == {round(at["0"] - at["400"], 1)}


def test_the_lines_are_told_apart_by_dashes_and_their_words_do_not_touch() -> None:
    picture = parsed(load_lines_svg(chart()))
    dashed = [found for found in picture.iter(f"{SVG}path") if "stroke-dasharray" in found.attrib]
    assert len(dashed) == 1
    ends = {
        found.text: float(found.attrib["y"])
        for found in picture.iter(f"{SVG}text")
        if "-day " in (found.text or "")
    }
    assert set(ends) == {"7-day 200", "28-day 200"}
    assert abs(ends["7-day 200"] - ends["28-day 200"]) >= 12.0


def test_weeks_are_numbered_from_the_programmes_first() -> None:
    numbers = [text for text in texts(parsed(load_lines_svg(chart()))) if text in {"1", "2", "3"}]
    assert numbers == ["1", "2"]
    later = chart(first=MONDAY + timedelta(days=9))
    assert [text for text in texts(parsed(load_lines_svg(later))) if text in {"1", "2", "3", "4"}] == [
        "2",
        "3",
        "4",
    ]


@pytest.mark.parametrize("skin", ["page", "paper"])
@pytest.mark.parametrize("width", [320.0, 640.0])
@pytest.mark.parametrize("days", [2, 14, 364])
def test_the_picture(skin: SkinName, width: float, days: int) -> None:
    drawn = chart(days, missing=())
    picture = parsed(load_lines_svg(drawn, skin=skin, ident="one", width=width))
    assert picture.attrib["aria-labelledby"] == "one-title one-desc"
    assert [found.text for found in picture][:2] == [drawn.title, drawn.summary]
    assert all("style" not in found.attrib for found in picture.iter())
    for found in picture.iter(f"{SVG}text"):
        assert 0.0 <= float(found.attrib["x"]) <= width
    weeks = [found for found in picture.iter(f"{SVG}text") if (found.text or "").isdigit()]
    low = max(float(found.attrib["y"]) for found in weeks)
    places = sorted(float(found.attrib["x"]) for found in weeks if float(found.attrib["y"]) == low)
    assert all(after - before >= 20.0 for before, after in pairwise(places))


def test_the_words_behind_the_picture() -> None:
    told = chart().summary
    assert "Session load a day, Mon 12 Jan to Sun 25 Jan." in told
    assert "Most on Mon 12 Jan: 400." in told
    assert "the 7-day average is 200, the 28-day average 200" in told
    assert "Not written down, and drawn as nothing: Wed 14 Jan." in told


def test_no_load_at_all_is_still_a_picture() -> None:
    nothing = LoadLines("ada", MONDAY, (0.0, 0.0), (0.0, 0.0), (0.0, 0.0), ())
    assert "7-day 0" in texts(parsed(load_lines_svg(LoadChart("Ada", nothing, MONDAY))))


def test_the_page_knows_every_class_of_the_picture() -> None:
    style = "".join(
        found.read_text(encoding="utf-8")
        for found in files("speedloom.report.charts").joinpath("on_page").iterdir()
        if found.name.endswith(".css")
    )
    picture = parsed(load_lines_svg(chart(), skin="page"))
    classes = {name for found in picture.iter() for name in found.attrib.get("class", "").split()}
    assert {"loads", "loads-bar", "loads-short", "loads-long", "loads-missing"} <= classes
    assert [name for name in sorted(classes) if f".{name}" not in style] == []
