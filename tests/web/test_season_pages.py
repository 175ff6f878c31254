"""A whole season played through the pages ends in the same documents as the command line."""

from __future__ import annotations

import html
import re
from datetime import datetime
from pathlib import Path

import pytest
from django.utils import timezone

from page_forms import form_with
from season_on_pages import PHYSIO, SEASON, TESTS, SeasonOnPages
from simulated_athletes import Truth
from simulated_logs import simulate_log
from speedloom.store.restrictions import restrictions
from speedloom.training.document import canonical, digest
from speedloom.training.log import Log
from speedloom.training.programme import Programme

COLUMNS = 9
CELLS = re.compile(r"  +")
ROW = re.compile(r"<tr><th scope=.row.>.*?</tr>", re.DOTALL)
CELL = re.compile(r"<t[hd][^>]*>(.*?)</t[hd]>", re.DOTALL)
TAG = re.compile(r"<[^>]+>")
CALF = {
    "start": "own", "first": "2026-02-24", "until": "2026-03-08",
    "limit0-what": "share_vmax", "limit0-at_most": "80 %", "limit1-what": "contacts", "limit1-at_most": "0",
}  # fmt: skip


@pytest.fixture
def season(db: None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> SeasonOnPages:  # noqa: ARG001
    def set_clock(now: datetime) -> None:
        monkeypatch.setattr(timezone, "now", lambda: now)

    return SeasonOnPages(tmp_path / "season", set_clock)


def same_work(one: Programme, other: Programme) -> bool:
    """Say whether two programmes are the same but for the names of the files their tests were read from."""
    briefs = [
        programme.brief.content.model_copy(update={"tests": ()})
        for programme in (one, other)
        if programme.brief.content
    ]
    parts = [(programme.programmes, programme.basis, programme.unmet) for programme in (one, other)]
    return briefs[0] == briefs[1] and parts[0] == parts[1]


def simulated(season: SeasonOnPages, weeks: range, truth: Truth) -> Log:
    return simulate_log(
        season.revision(), weeks=weeks, seed=SEASON["SEED"], truth=truth, absences=[SEASON["ILL"]],
        rain=SEASON["RAIN"], pain=[SEASON["CALF"]],
    )  # fmt: skip


def from_the_command_line(season: SeasonOnPages, command: str) -> None:
    """Let the command line make the same from the site's files, and hold the bytes against the site's."""
    season.story.run(f"speedloom {command} -o @by_command.json")
    made = season.story_programme("by_command")
    if "--brief" in command:
        made = without_file_names(made)
    assert canonical(season.revision()) == canonical(made), command


def without_file_names(programme: Programme) -> Programme:
    """Take the names of the tests' files out of a brief: on the site tests are pasted."""
    content = programme.brief.content
    assert content is not None
    bare = content.model_copy(update={"tests": ()})
    return programme.model_copy(
        update={"brief": programme.brief.model_copy(update={"digest": digest(bare), "content": bare})}
    )


def test_a_season_through_the_pages_ends_in_the_documents_of_the_command_line(season: SeasonOnPages) -> None:
    truth = _tested_and_planned(season)
    _five_weeks_and_sharper_numbers(season, truth)
    _ill_and_planned_again(season, truth)
    _a_calf_and_the_physiotherapist(season, truth)
    _a_match_moves(season, truth)
    _tested_again(season, truth)
    assert season.revision().revision.number == 5


def _tested_and_planned(season: SeasonOnPages) -> Truth:
    for name in TESTS:
        season.pastes((season.folder / name).read_text(encoding="utf-8"))
    season.plans()
    season.story.run("speedloom plan @season.toml -o @cli_1.json")
    assert same_work(season.revision(), season.story_programme("cli_1"))
    season.joins("assistant-1", "assistant")
    for athlete in season.brief.athletes:
        season.joins(athlete.ref, "athlete", athlete=athlete.ref)
    truth: Truth = SEASON["_truth"](season.revision())
    return truth


def _five_weeks_and_sharper_numbers(season: SeasonOnPages, truth: Truth) -> None:
    season.on(2026, 2, 9)
    season.writes(simulated(season, range(1, 6), truth))
    page = season.look(f"{season.here}review/", week="4")
    assert "Week 4: planned beside done" in page
    season.takes_home("then")
    told = season.story.run("speedloom review @then_1.json --log @then_log.json --week 4")
    differs = [
        line.strip() for line in told.splitlines() if ": " in line and " Jan " in line and "Week" not in line
    ]
    assert differs
    assert all(line.partition(": ")[2].partition(" of ")[0] in page for line in differs)
    said = season.accepts("proposals", {"on": "2026-02-08", "all": "1"})
    assert "Accept as revision 2" in said
    from_the_command_line(season, "sharpen @then_1.json --log @then_log.json --on 2026-02-08 --accept all")


def _ill_and_planned_again(season: SeasonOnPages, truth: Truth) -> None:
    season.on(2026, 2, 18)
    season.writes(simulated(season, range(6, 8), truth))
    reason = "Ines ill 9 to 17 February"
    season.takes_home("then")
    page = season.look(f"{season.here}replan/")
    assert "Ines Carvalhal" in page
    season.accepts("replan", {"since": "2026-02-18", "reason": reason})
    from_the_command_line(
        season, f'replan @then_2.json --log @then_log.json --from 2026-02-18 --reason "{reason}"'
    )


def _a_calf_and_the_physiotherapist(season: SeasonOnPages, truth: Truth) -> None:
    season.on(2026, 2, 24)
    season.joins("physio", "clinician", name=PHYSIO)
    season.writes(simulated(season, range(8, 9), truth))
    for card in restrictions(season.coach, season.key):
        # What stopped her on the field is taken over by the physiotherapist's own limits.
        path = f"athletes/{card.athlete}/restrictions/{card.id}/lift/"
        season.send(path, {"reason": "Seen; limits below"}, who="physio")
    season.send("athletes/amina/restrictions/", CALF, who="physio")
    reason = "Amina: calf, limits by the physiotherapist"
    season.takes_home("then")
    said = season.accepts("replan", {"since": "2026-02-24", "reason": reason})
    assert PHYSIO in said
    from_the_command_line(
        season,
        "replan @then_3.json --log @then_log.json --from 2026-02-24 --brief @then_brief.json "
        f'--reason "{reason}"',
    )


def _a_match_moves(season: SeasonOnPages, truth: Truth) -> None:
    season.on(2026, 3, 9)
    season.writes(simulated(season, range(9, 10), truth))
    number = next(n for n, one in enumerate(season.brief_now().events, 1) if str(one.date) == "2026-03-14")
    form = form_with(season.look(f"calendar/events/{number}/"), "date")
    season.send(f"calendar/events/{number}/", form.filled(date="2026-03-15", do="save"))
    reason = "League match moved to Sunday 15 March"
    season.takes_home("then")
    said = season.accepts("replan", {"since": "2026-03-09", "reason": reason})
    assert "League" in said
    from_the_command_line(
        season,
        "replan @then_4.json --log @then_log.json --from 2026-03-09 --brief @then_brief.json "
        f'--reason "{reason}"',
    )


def _tested_again(season: SeasonOnPages, truth: Truth) -> None:
    season.on(2026, 3, 30)
    season.writes(simulated(season, range(10, 13), truth))
    rows = [*SEASON["retest_rows"](season.revision(), truth, season.first_tests)]
    season.pastes(SEASON["_table"](rows))
    (season.folder / "retest.csv").write_text(
        SEASON["_table"]([*season.first_tests, *rows]), encoding="utf-8"
    )
    season.takes_home("then")
    told = season.story.run("speedloom retest @retest.csv --programme @then_5.json --log @then_log.json")
    lines = (CELLS.split(line.strip()) for line in told.splitlines())
    printed = [row for row in lines if len(row) == COLUMNS and row[0] != "athlete"]
    shown = rows_of(season.look("retest/"))
    assert len(printed) == len(shown) >= len(SEASON["SQUAD"])
    # Panels stand in another order on the page, so each printed row is looked for.
    assert [row for row in printed if not any(same_row(row, other) for other in shown)] == []
    own = season.look("athletes/mila/retest/", who="mila")
    assert not any(one.title in own for one in season.brief.athletes if one.ref != "mila")


def same_row(printed: list[str], shown: list[str]) -> bool:
    """Say whether a row of the terminal and one of the page tell the same; the page writes units out."""
    name, *numbers, said = printed
    there = [cell.replace("over ", ">").replace("under ", "<") for cell in (*shown[1:5], *shown[6:])]
    alike = (cell.startswith(number) for cell, number in zip(there, numbers, strict=True))
    return (shown[0], shown[5]) == (name, said) and all(alike)


def rows_of(page: str) -> list[list[str]]:
    """Read the rows of a retest's tables."""
    rows = ROW.findall(page)
    return [[html.unescape(TAG.sub("", cell)) for cell in CELL.findall(row)] for row in rows]
