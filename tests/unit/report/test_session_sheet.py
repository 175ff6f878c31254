"""The session sheet: everything a stranger needs, on one side, and nothing outside the paper."""

from __future__ import annotations

import json
from datetime import date

import pytest

from speedloom.errors import UnprintableTextError
from speedloom.report.sheets.paper import Paper, PaperSize
from speedloom.report.sheets.session_sheet import NothingToPrintError, session_sheet_pdf, week_days
from speedloom.training.brief import OwnLine
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.wording.line_words import stop_time
from speedloom.wording.names import with_own_titles
from speedloom.wording.units import Units
from unit.report.pdf_reading import fonts, is_tagged, page_texts, placed_texts, plain, read
from unit.report.sample import MONDAY, NAMES, programme

TUESDAY = date(2026, 1, 13)
PRINTED = date(2026, 1, 10)


def printed(
    people: int = 3, *, day: date = MONDAY, last: date | None = None, size: PaperSize = "a4"
) -> bytes:
    paper = Paper(PRINTED, size)
    return session_sheet_pdf(programme(people), first=day, last=last, catalogue=load_catalogue(), paper=paper)


def unhyphenated(text: str) -> str:
    """A long name breaks at its own hyphen."""
    return text.replace("- ", "-")


@pytest.mark.parametrize("size", ["a4", "us-letter"])
@pytest.mark.parametrize("people", [1, 3, 14])
@pytest.mark.parametrize("day", [MONDAY, TUESDAY])
def test_one_side(people: int, day: date, size: PaperSize) -> None:
    assert len(page_texts(printed(people, day=day, size=size))) == 1


@pytest.mark.parametrize(("size", "millimetres"), [("a4", (297.0, 210.0)), ("us-letter", (279.4, 215.9))])
def test_paper_sizes(size: PaperSize, millimetres: tuple[float, float]) -> None:
    box = read(printed(size=size)).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(
        [side / 25.4 * 72.0 for side in millimetres], abs=0.01
    )


@pytest.mark.parametrize("people", [3, 14])
def test_every_athlete_with_own_load_and_target(people: int) -> None:
    (text,) = page_texts(printed(people))
    text = unhyphenated(text)
    for name, own in zip(NAMES, programme(people).programmes, strict=False):
        rest = text.partition("0–10")[2].partition(name)[2]
        run, sled = (line for line in own.weeks[0].sessions[0].prescriptions if line.expect)
        assert rest, name
        assert run.expect
        assert sled.expect
        wanted = (
            f"{run.expect.time_s:.2f} s",
            f"stop {stop_time(run)}",
            f"{sled.load_kg:g} kg",
            f"{sled.expect.time_s:.2f} s",
        )
        places = [rest.find(word) for word in wanted]
        assert places == sorted(places)
        assert -1 not in places
        assert places[-1] < 150


def test_a_stop_time_is_the_expected_time_and_what_is_still_good() -> None:
    run = programme().programmes[0].weeks[0].sessions[0].prescriptions[2]
    assert run.expect
    assert run.expect.time_s == 2.82
    assert stop_time(run) == "2.96"


def test_heading_says_how_often_rest_stop_and_cue() -> None:
    (text,) = page_texts(printed())
    run = "each as below · rest 2 min · Stop: form breaks, or two runs over the stop time"
    assert f"{run} · times: gates, start 0.5 m behind the first beam Lean, push long" in text
    assert "3 × 8 · rest 90 s Long push, knee through, active foot" in text
    for name, dose in (("Ada Maarleveld", "5 × 15 m"), ("Brit Sandoval LIMIT", "5 × 10 m")):
        assert dose in text.partition(name)[2][:60], "no head says another dose than the row below it"


def test_a_box_for_every_run_and_set() -> None:
    (text,) = page_texts(printed(1))
    row = text.partition("Ada Maarleveld")[2].partition("Lay out")[0]
    assert [row.count(f" {number}") for number in (1, 2, 3)] >= [4, 4, 4]
    assert " 1 2 3 4 5 22 kg" in row


def test_who_does_not_do_an_exercise_has_a_dash() -> None:
    (text,) = page_texts(printed())
    brit = text.partition("Brit Sandoval")[2].partition("Cleo")[0]
    ada = text.partition("Ada Maarleveld")[2].partition("Brit Sandoval")[0]
    assert "–" in brit
    assert "–" not in ada


def test_who_has_a_limit_is_marked_and_the_limit_stands_on_the_own_sheet_only() -> None:
    (text,) = page_texts(printed())
    assert "Brit Sandoval LIMIT" in text
    assert "LIMIT beside a name: the own sheet says" in text
    assert "top speed; no hop" not in text
    assert "knee" not in text.partition("LIMIT beside")[2].partition("Lay out")[0]
    assert "Physio" not in text


def test_kit_lightest_first_with_plates() -> None:
    field, gym = page_texts(printed(last=TUESDAY))
    assert (
        "Sled sprint (2 sleds, 12 kg empty; on each sled one run each in turn, so that plates change least): "
        "Sled 1: 22 kg [10] Ada; 24.5 kg [10 + 2.5] Brit. Sled 2: 27 kg [10 + 5] Cleo." in field
    )
    assert "60 kg [20 each side] Ada; 65 kg [20 + 2.5 each side] Brit" in gym


def test_care_stands_on_every_sheet() -> None:
    field, gym = page_texts(printed(last=TUESDAY))
    for text in (field, gym):
        assert "Nobody sprints flat out cold, feverish, on arrival day" in text
        assert "grab at the back of the thigh ends the running for the day" in text
        assert "Help comes to" in text
        assert "Emergency number" in text
    assert "nobody behind or beside the sled" in field
    assert "Run-out kept free" in field
    assert "Rack pins set, collars on, a spotter" in gym


def test_no_clinician_is_said() -> None:
    alone = page_texts(printed(1))[0]
    assert "No clinician is named" in alone
    assert "No clinician is named" not in page_texts(printed(3))[0]


def test_foot_says_which_revision_and_when() -> None:
    field, gym = page_texts(printed(last=TUESDAY))
    assert "Programme 4f1c2a90b7de, revision 2, printed 10 January 2026." in field
    assert "page 1 of 2" in field
    assert "page 2 of 2" in gym


def test_warm_up_is_written_out() -> None:
    (text,) = page_texts(printed())
    assert "Warm-up 20 min: Easy lengths: jog, side shuffle, easy skip (4 min)" in text
    assert "Build-ups 4 × 20 m at 60, 70, 80, 90 %" in text


def test_pounds_and_yards() -> None:
    paper = Paper(PRINTED)
    units = Units(mass="lb", length="yd")
    made = session_sheet_pdf(programme(), first=MONDAY, catalogue=load_catalogue(), paper=paper, units=units)
    (text,) = page_texts(made)
    assert "Sled 1: 48.5 lb [22] Ada" in text
    assert "2 sleds, 26.5 lb empty" in text
    assert "lb: sled and plates" in text
    assert "5 × 10.9 yd (10 m)" in text
    assert "Distances of the drills are in metres" in text
    assert " kg" not in text


@pytest.mark.parametrize("people", [1, 14])
@pytest.mark.parametrize("size", ["a4", "us-letter"])
def test_no_text_outside_the_paper(people: int, size: PaperSize) -> None:
    # A letter is 0.4 of its size wide at least on average: enough to find a text that runs off the paper.
    for page in read(printed(people, last=TUESDAY, size=size)).pages:
        width, height = float(page.mediabox.width), float(page.mediabox.height)
        found = placed_texts(page)
        assert len(found) > 40
        for text in found:
            assert text.x >= 20.0
            assert text.x + 0.4 * text.size * len(text.text) <= width - 20.0, text
            assert 14.0 <= text.y <= height - 20.0, text


def test_large_type() -> None:
    found = placed_texts(read(printed(14)).pages[0])
    assert max(text.size for text in found if text.text == "22 kg") >= 12.0
    assert max(text.size for text in found if text.text == "Ada Maarleveld") >= 10.0


def test_tagged_with_title_and_fonts_inside() -> None:
    made = printed()
    document = read(made)
    root = document.trailer["/Root"]
    assert is_tagged(made)
    assert root["/Lang"] == "en-GB"
    assert plain(str(document.metadata.title)) == "Session sheet, Mon 12 Jan · 18:00 · hall"
    inside = dict(fonts(made))
    assert all(inside.values())
    assert all("SourceSansPro" in name for name in inside)


def test_same_bytes_for_the_same_sheet() -> None:
    assert printed() == printed()
    assert printed() != session_sheet_pdf(
        programme(), first=MONDAY, catalogue=load_catalogue(), paper=Paper(date(2026, 1, 11))
    )


def test_only_some_athletes() -> None:
    made = session_sheet_pdf(
        programme(), first=MONDAY, catalogue=load_catalogue(), paper=Paper(PRINTED), athletes=("brit",)
    )
    (text,) = page_texts(made)
    assert "Brit Sandoval" in text
    assert "Ada" not in text


def test_a_day_without_training() -> None:
    with pytest.raises(
        NothingToPrintError, match="Expected a session from 14 January 2026 to 14 January 2026, found none"
    ):
        printed(day=date(2026, 1, 14))


def test_days_of_a_week() -> None:
    assert week_days(programme(), 2) == (date(2026, 1, 19), date(2026, 1, 25))
    with pytest.raises(NothingToPrintError, match="Expected a week from 1 to 4, got 9"):
        week_days(programme(), 9)


@pytest.mark.parametrize(
    "name", ["Αλεξάνδρα", "Łucja Żółć", "Ирина", "نور", "N" * 60, "A & <b> #let $x$ _i_ @r"]
)
def test_names_of_many_scripts_stand_on_the_sheet(name: str) -> None:
    assert len(page_texts(named(name))) == 1


def test_a_sign_without_a_font_is_said_in_words() -> None:
    # U+10FFFD is for private use: no font of any computer shows it.
    with pytest.raises(UnprintableTextError, match="in a name, title or cue; write it in other letters"):
        named("Mia \U0010fffd")


def named(name: str) -> bytes:
    document = programme(1)
    content = document.brief.content
    assert content
    athletes = (content.athletes[0].model_copy(update={"name": name}), *content.athletes[1:])
    brief = document.brief.model_copy(update={"content": content.model_copy(update={"athletes": athletes})})
    made = document.model_copy(update={"brief": brief})
    return session_sheet_pdf(
        made, first=MONDAY, last=None, catalogue=load_catalogue(), paper=Paper(PRINTED, "a4")
    )


def changed(people: int = 3, **content: object) -> Programme:
    """The invented squad with other content of its brief."""
    document = programme(people)
    found = document.brief.content
    assert found
    brief = document.brief.model_copy(update={"content": found.model_copy(update=content)})
    return document.model_copy(update={"brief": brief})


def lines_changed(exercise: str, **fields: dict[str, object]) -> Programme:
    """The invented squad's first week with other lines of one exercise, by athlete."""
    content = json.loads(programme().model_dump_json(by_alias=True))
    for own in content["programmes"]:
        for session in own["weeks"][0]["sessions"]:
            for line in session["prescriptions"]:
                line.update(fields.get(own["athlete"], {}) if line["exercise"] == exercise else {})
    return Programme.model_validate_json(json.dumps(content))


def sheet_of(document: Programme, *, day: date = MONDAY) -> str:
    catalogue = with_own_titles(load_catalogue(), document)
    return page_texts(session_sheet_pdf(document, first=day, catalogue=catalogue, paper=Paper(PRINTED)))[0]


def test_who_warms_up_otherwise_is_named_beside_the_warm_up() -> None:
    text = sheet_of(lines_changed("build_up", ada={"reps": 3, "effort": 0.8}))
    assert "Otherwise for Ada Maarleveld: build-ups 3 × 20 m up to 80 %." in text
    assert "Brit Sandoval LIMIT" in text
    assert "no jumps" not in text, "everybody reads it; that stands on the own sheet"
    youth = sheet_of(lines_changed("indoor", cleo={"exercise": "youth"}))
    assert "Cleo van der Rijnsburgh-Oosterwijk: Youth warm-up (Tag or mirror game" in unhyphenated(youth)


def test_a_step_of_some_levels_names_who_does_it() -> None:
    content = programme().brief.content
    assert content
    levels = ("advanced", "novice", "novice")
    people = tuple(
        one.model_copy(update={"level": {"unloaded_sprint": level}})
        for one, level in zip(content.athletes, levels, strict=True)
    )
    assert "B-skip, 2 × 15 m each, Ada Maarleveld only (2 min)" in sheet_of(changed(athletes=people))
    nobody = tuple(one.model_copy(update={"level": {"unloaded_sprint": "novice"}}) for one in people)
    assert "B-skip" not in sheet_of(changed(athletes=nobody))


def test_different_starts_stand_beside_each_time() -> None:
    other = {"time_s": 2.0, "low": 1.9, "high": 2.1, "clock": "gates/movement"}
    text = sheet_of(lines_changed("acceleration_run", brit={"expect": other}))
    assert "stop 2.35 0.5 m behind" in text
    assert "stop 2.10 from first movement" in text
    assert "start 0.5 m behind the first beam" in text  # the sled's times are alike


def test_lighter_sets_come_before_a_main_lift() -> None:
    text = sheet_of(programme(), day=TUESDAY)
    assert text.count("first two or three lighter sets, about 40, 60 and 80 % of today's load") == 1


def test_the_responsible_adult_is_named_where_minors_are_present() -> None:
    people = programme().brief.content
    assert people
    young = tuple(one.model_copy(update={"born": date(2011, 1, 1)}) for one in people.athletes)
    asked = "Two adults with minors. Responsible: Joke Voorbeeld."
    assert asked in sheet_of(changed(athletes=young, responsible_adult="Joke Voorbeeld"))
    assert "Joke Voorbeeld" not in sheet_of(changed(responsible_adult="Joke Voorbeeld"))


def test_an_own_line_has_the_coachs_title() -> None:
    own = OwnLine(ref="cuts", slot="mon_hall", exercise="alternate_bound", title="Bounds our way", minutes=8)
    assert "Bounds our way" in sheet_of(
        lines_changed("alternate_bound", ada={"cue": "Bounds our way"}).model_copy(
            update={"brief": changed(own_lines=(own,)).brief}
        )
    )


def test_the_plates_stand_on_the_page_of_their_sled() -> None:
    made = session_sheet_pdf(
        programme(14), first=MONDAY, last=TUESDAY, catalogue=load_catalogue(), paper=Paper(PRINTED)
    )
    for text in page_texts(made):
        assert ("Sled sprint (2 sleds" in text) == ("2. Sled sprint" in text)
        assert "Tick who is here" in text
