"""The weave in both skins, and from a programme."""

from __future__ import annotations

import re
from dataclasses import replace
from importlib.resources import files
from xml.etree import ElementTree as ET

import pytest

from speedloom.report.charts.colours import DEEPEST, HUES, INK, PALEST, contrast, mixed
from speedloom.report.charts.skins import SkinName
from speedloom.report.charts.weave import Thread, WeaveData, WeekColumn
from speedloom.report.charts.weave_drawing import weave_svg
from speedloom.report.charts.weave_programme import weave_from_programme
from speedloom.training.exercise import load_catalogue
from unit.report.sample import programme
from unit.report.svg_reading import SVG, parsed, texts

READABLE = 4.5
"""Contrast of small text, WCAG 2.2 success criterion 1.4.3 (memory)."""
SKINS: tuple[SkinName, ...] = ("page", "paper")
WEAVE = weave_from_programme(programme(3, 12), "ada", catalogue=load_catalogue(), this_week=6)


def drawn(skin: SkinName, *, weave: WeaveData = WEAVE, ident: str = "weave") -> ET.Element:
    return parsed(weave_svg(weave, skin=skin, ident=ident))


@pytest.mark.parametrize("skin", SKINS)
def test_those_who_do_not_see_it_are_told(skin: SkinName) -> None:
    picture = drawn(skin)
    names = picture.attrib["aria-labelledby"].split()
    told = {found.attrib["id"]: found.text for found in picture if "id" in found.attrib}
    assert picture.attrib["role"] == "img"
    assert [told[name] for name in names] == [WEAVE.title, WEAVE.summary]
    assert "Lighter weeks: 4, 8." in WEAVE.summary
    assert "Maximal strength: most in week" in WEAVE.summary


@pytest.mark.parametrize("skin", SKINS)
def test_every_thread_has_its_label_and_words(skin: SkinName) -> None:
    said = texts(drawn(skin))
    assert [thread.label for thread in WEAVE.threads] == [
        text for text in said if text in {t.label for t in WEAVE.threads}
    ]
    assert {"25 % slower", "8 reps", "5 reps", "3 reps", "8–12 reps"} <= set(said)


@pytest.mark.parametrize("skin", SKINS)
def test_two_pictures_on_one_page_share_no_id(skin: SkinName) -> None:
    one, other = (
        {found.attrib["id"] for found in drawn(skin, ident=ident).iter() if "id" in found.attrib}
        for ident in ("weave-ada", "weave-brit")
    )
    assert len(one) == len(WEAVE.threads) + 2
    assert not one & other


def test_the_page_has_classes_weeks_and_no_style() -> None:
    picture = drawn("page")
    assert all("style" not in found.attrib for found in picture.iter())
    assert all("font-family" not in found.attrib for found in picture.iter())
    weeks = [found.attrib["data-week"] for found in picture.iter() if "data-week" in found.attrib]
    assert weeks == [str(number) for number in range(1, 13)]


def test_every_class_of_a_page_has_its_rule() -> None:
    css = files("speedloom.report.charts").joinpath("on_page", "pictures.css").read_text(encoding="utf-8")
    used = {name for found in drawn("page").iter() for name in found.attrib.get("class", "").split()}
    ruled = set(re.findall(r"\.([a-z-]+)", css)) | {"weave-fill", "weave-thread"}
    assert len(used) > len(HUES)
    assert used - ruled == set()


def test_paper_stands_alone() -> None:
    picture = drawn("paper")
    assert all("class" not in found.attrib and "style" not in found.attrib for found in picture.iter())
    families = {found.attrib["font-family"] for found in picture.iter(f"{SVG}text")}
    assert [family.split(",")[0] for family in families] == ["Source Sans Pro"]


@pytest.mark.parametrize("hue", HUES)
@pytest.mark.parametrize("share", [PALEST, DEEPEST])
def test_ink_is_readable_on_every_thread(hue: str, share: float) -> None:
    assert contrast(INK, mixed(HUES[hue], share)) >= READABLE


@pytest.mark.parametrize(("theme", "ink", "card"), [(0, INK, "#ffffff"), (1, "#eef0f2", "#1d2229")])
def test_words_are_readable_on_a_page_by_day_and_night(theme: int, ink: str, card: str) -> None:
    css = files("speedloom.report.charts").joinpath("on_page", "pictures.css").read_text(encoding="utf-8")
    hues = re.findall(r"--hue: light-dark\((#\w+), (#\w+)\)", css)
    ratios = [contrast(ink, mixed(pair[theme], DEEPEST, ground=card)) for pair in hues]
    assert len(ratios) == len(HUES)
    assert min(ratios) >= READABLE


@pytest.mark.parametrize("skin", SKINS)
def test_lighter_weeks_are_told_by_word_and_pattern(skin: SkinName) -> None:
    said = texts(drawn(skin))
    plain = replace(WEAVE, weeks=tuple(replace(week, pattern="") for week in WEAVE.weeks))
    striped = [len(list(drawn(skin, weave=data).iter(f"{SVG}path"))) for data in (WEAVE, plain)]
    assert said.count("lighter") == 2
    assert striped[0] - striped[1] == 3


def test_thickness_is_the_planned_volume() -> None:
    sprint = next(thread for thread in WEAVE.threads if thread.key == "sprint")
    own = programme(3, 12).programmes[0]
    planned = [week.volumes["acceleration"].planned for week in own.weeks]
    assert sprint.thickness == pytest.approx([value / max(planned) for value in planned])


def test_what_was_done_is_drawn_for_the_weeks_it_is_known() -> None:
    done = {"resisted_sprint": [30.0, 12.0]}
    weave = weave_from_programme(programme(3, 12), "ada", catalogue=load_catalogue(), done=done)
    resisted = next(thread for thread in weave.threads if thread.key == "resisted")
    largest = max(week.volumes["resisted_sprint"].planned for week in programme(3, 12).programmes[0].weeks)
    assert resisted.done[:3] == (pytest.approx(30.0 / largest), pytest.approx(12.0 / largest), None)
    lines = [
        len(list(drawn("paper", weave=data).iter(f"{SVG}path")))
        for data in (weave, replace(WEAVE, this_week=None))
    ]
    assert lines[0] == lines[1] + 1


def test_nobody_of_that_name() -> None:
    with pytest.raises(KeyError, match="zoe"):
        weave_from_programme(programme(), "zoe", catalogue=load_catalogue())


def test_a_thread_must_match_the_weeks() -> None:
    with pytest.raises(ValueError, match="Expected a thickness for each of 1 weeks, not so in: power"):
        WeaveData("", (WeekColumn(1, 0.0),), (Thread("power", "Power", (0.2, 0.3)),))


@pytest.mark.parametrize("share", [-0.1, 1.1, float("nan")])
def test_thickness_is_a_share(share: float) -> None:
    with pytest.raises(ValueError, match="Expected thickness as a share from 0 to 1 in thread power"):
        Thread("power", "Power", (share,))
