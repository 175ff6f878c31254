"""The demo squad planned again: each story of what may happen, with the difference a coach reads.

The issue: "On the demo squad: no news → the input bytes; nine lost days → no avoidable session moves and the
difference, at most five lines of 100 characters, names every changed session; one lost day, a moved match, a
restriction, a new peak date, a lost sled, each a tested story with its expected difference".
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from briefs import EXAMPLES, outcome, planned, resolved
from replanned import again, broken, grown, moved, sessions_of, whole, with_news
from speedloom.exchange.documents import canonical
from speedloom.training.brief import Brief
from speedloom.training.measurement import Measurements
from speedloom.training.programme import Programme
from speedloom.wording.replanned import WIDTH, replanned_text
from speedloom.workflows.compare import compare

SQUAD = EXAMPLES / "spring_build.toml"
POSSIBLE = [path for path in sorted(EXAMPLES.glob("*.toml")) if path.stem != "impossible"]
SINCE = date(2026, 2, 18)
Data = dict[str, Any]


def days(first: date, count: int) -> tuple[date, ...]:
    return tuple(first + timedelta(days=more) for more in range(count))


def plan() -> Programme:
    return planned(SQUAD)


def told(new: Programme, *, since: date = SINCE, old: Programme | None = None) -> list[str]:
    """Give the lines a coach reads before accepting, having looked that all promises are kept."""
    before = old or plan()
    assert broken(before, new, since=since) == []
    lines = replanned_text(before, new, since=since).splitlines()
    assert [line for line in lines if len(line) > WIDTH] == []
    return lines


@cache
def story(change: Callable[[Data], None], *, since: date = SINCE) -> Programme:
    """Plan the squad again with a change to its brief."""
    return again(plan(), since=since, brief=with_news(plan(), change))


def paragraphs(lines: list[str]) -> list[str]:
    """Join the lines that go on with the ones they go on from."""
    return "\n".join(lines).replace("\n  ", " ").splitlines()


def athletes_changed(new: Programme) -> set[str]:
    found = compare(plan(), new)
    return {one.athlete for one in (*found.sessions, *found.lines)}


# ---------------------------------------------------------------------- no news


@pytest.mark.parametrize("path", POSSIBLE, ids=lambda path: path.stem)
def test_no_news_gives_the_input_bytes(path: Path) -> None:
    old = planned(path)
    assert old.brief.content is not None
    first, last = old.brief.content.start, old.brief.content.end
    for share in (0.0, 0.4, 0.8) if path.stem == "short_block" else (0.45,):
        new = again(old, since=first + timedelta(days=round(share * (last - first).days)))
        assert canonical(new) == canonical(old)


def test_a_day_that_was_known_as_away_is_no_news() -> None:
    new = again(plan(), since=SINCE, lost={"rosa": days(date(2026, 1, 26), 7)})
    assert new is plan()
    assert told(new) == ["Nothing changed: there is no news. Revision 1 stays as it is."]


# ---------------------------------------------------------------------- lost days


def test_nine_lost_days_in_at_most_five_lines() -> None:
    new = again(plan(), since=SINCE, lost={"ines": days(date(2026, 2, 9), 9)})
    assert told(new) == [
        "Revision 2: everything until Tue 17 Feb stands as it is.",
        "New: Ines Carvalhal: no training Mon 9 to Tue 17 Feb.",
        "Mon 23 Feb, turf, Ines Carvalhal: fewer runs, sled runs and jumps.",
        "Tue 24 Feb, gym, Ines Carvalhal: fewer sets.",
        "Nothing is stacked: what was missed from Mon 9 to Tue 17 Feb stays missed.",
    ]
    assert moved(plan(), new) == []
    assert grown(plan(), new, since=SINCE) == []
    changed = {line.date for line in compare(plan(), new).lines}
    assert changed == {date(2026, 2, 23), date(2026, 2, 24)}
    assert athletes_changed(new) == {"ines"}


def test_one_lost_day_changes_no_session() -> None:
    since = date(2026, 1, 27)
    new = again(plan(), since=since, lost={"ines": (date(2026, 1, 26),)})
    assert told(new, since=since) == [
        "Revision 2: everything until Mon 26 Jan stands as it is.",
        "New: Ines Carvalhal: no training Mon 26 Jan.",
        "Nothing changed in any session.",
        "Nothing is stacked: what was missed on Mon 26 Jan stays missed.",
    ]
    assert not compare(plan(), new)


@cache
def three() -> Programme:
    """Plan three of the squad: a novice, the most advanced, and the one who is fifteen."""
    few = ("bea", "nomvula", "yara")

    def chosen(brief: Brief, measurements: Measurements) -> tuple[Brief, Measurements]:
        athletes = tuple(athlete for athlete in brief.athletes if athlete.ref in few)
        return brief.model_copy(update={"athletes": athletes}), measurements

    programme = outcome(resolved(SQUAD, change=chosen))
    assert isinstance(programme, Programme)
    return programme


@pytest.mark.parametrize("count", [2, 9, 15, 22])
@pytest.mark.parametrize("first", [date(2026, 1, 13), date(2026, 1, 27)])
def test_whatever_is_lost_nothing_grows_or_moves(first: date, count: int) -> None:
    since = first + timedelta(days=count)
    lost = {own.athlete: days(first, count) for own in three().programmes}
    new = again(three(), since=since, lost=lost)
    lines = told(new, since=since, old=three())
    assert lines[-1].startswith("Nothing is stacked: what was missed")
    back = [line for line in paragraphs(lines) if "lighter weeks back after two weeks or more off" in line]
    assert len(back) == (count > 14)  # rule D3
    assert moved(three(), new) == []
    assert grown(three(), new, since=since) == []


# ---------------------------------------------------------------------- the calendar


def later_match(brief: Data) -> None:
    for event in brief["events"]:
        if event["date"] == "2026-02-28":
            event["date"] = "2026-03-01"


THURSDAY = (
    "Thu 26 Feb, turf, all 14: runs added; all but Dilan Aslanbey: more jumps; "
    "5 athletes in part: longer top-speed runs, fewer jumps."
)
NEXT_THURSDAY = (
    "Thu 5 Mar, turf, all 14: sled runs added; 8 athletes: runs added; "
    "7 athletes in part: more top-speed runs and runs."
)

OWN_WORK = (
    "The week from Mon 23 Feb holds more: its own planned work by the calendar as it is now, nothing made up."
)


def test_a_match_moved_to_sunday() -> None:
    new = story(later_match)
    assert paragraphs(told(new)) == [
        "Revision 2: everything until Tue 17 Feb stands as it is.",
        "New: League, home (match) from Sat 28 Feb 14:00 to Sun 1 Mar 14:00.",
        THURSDAY,
        "Mon 2 Mar, turf, all 14: session left out.",
        NEXT_THURSDAY,
        OWN_WORK,
    ]
    gone = {session["ref"] for _, _, session in sessions_of(whole(plan())) if session["date"] == "2026-03-02"}
    assert set(moved(plan(), new)) == gone  # the day after a match; every other session stays where it was
    assert gone <= {ref for own in new.programmes for ref in own.retired}


def test_a_moved_match_gives_a_week_its_own_work_and_nothing_that_was_missed() -> None:
    brief = with_news(three(), later_match)
    lost = {own.athlete: (date(2026, 2, 12),) for own in three().programmes}
    with_loss, without = (again(three(), since=SINCE, lost=one, brief=brief) for one in (lost, None))
    said = paragraphs(told(with_loss, old=three()))[-1]
    assert said == f"{OWN_WORK} What was missed on Thu 12 Feb stays missed."
    assert grown(three(), with_loss, since=SINCE) != []  # the week of the match holds more, so that
    volumes, others = (
        {
            (own.athlete, week.number): {key: volume.planned for key, volume in week.volumes.items()}
            for own in new.programmes
            for week in own.weeks
            if week.monday >= date(2026, 2, 23)
        }
        for new in (with_loss, without)
    )
    assert volumes == others  # ... it is no more than it would hold had nothing been missed


def earlier_peak(brief: Data) -> None:
    brief["goal"]["peaks"][0]["date"] = "2026-03-21"


def test_an_earlier_peak_for_the_whole_squad() -> None:
    new = story(earlier_peak)
    lines = told(new)
    assert lines[1] == "New: main peak from Sat 28 Mar to Sat 21 Mar."
    assert lines[-1] == "speedloom diff OLD NEW tells every line that changes."
    assert len(compare(plan(), new).lines) > 500
    assert len(lines) <= 22
    assert moved(plan(), new) == []
    text = " ".join(lines)
    assert all(f"{day} Mar turf" in text for day in (2, 5, 12, 16, 19))
    assert {week.kind for own in new.programmes for week in own.weeks[10:11]} == {"taper"}


def friday(brief: Data) -> None:
    for slot in brief["slots"]:
        if slot["ref"] == "thu_turf":
            slot["day"] = "friday"


def test_a_slot_moved_to_another_weekday_keeps_its_sessions_refs() -> None:
    new = story(friday)
    lines = told(new)
    assert lines[1].startswith("New: slot thu turf from Thursday 19:00, 75 min, turf")
    assert "Fri 20 Mar, turf, all 14: moved from Thu 19 Mar." in lines
    before = {s["ref"]: s for _, _, s in sessions_of(whole(plan()))}
    after = {s["ref"]: s for _, _, s in sessions_of(whole(new))}
    changed = moved(plan(), new)
    assert changed
    assert {before[ref]["slot"] for ref in changed} == {"thu_turf"}
    assert {after[ref]["slot"] for ref in changed} == {"thu_turf"}


# ---------------------------------------------------------------------- people


def calf(brief: Data) -> None:
    limit = {"what": "share_vmax", "at_most": 0.8}
    dates = {"from": "2026-02-18", "until": "2026-03-08", "set_on": "2026-02-17"}
    restriction = {
        "ref": "ines_calf",
        "limits": [limit],
        "set_by": "club physio",
        "set_as": "clinician",
    } | dates
    for athlete in brief["athletes"]:
        if athlete["ref"] == "ines":
            athlete["restrictions"] = [restriction]


def test_a_restriction_by_a_clinician() -> None:
    new = story(calf)
    lines = told(new)
    assert lines[1] == "New: Ines Carvalhal: restriction set by club physio, Wed 18 Feb to Sun 8 Mar."
    said = " ".join(paragraphs(lines))
    assert (
        "Thu 19 Feb and Thu 26 Feb, turf, Ines Carvalhal: top-speed runs left out, runs added, "
        "fewer build-up runs, slower build-up runs. "
        "Mon 23 Feb and Mon 2 Mar, turf, Ines Carvalhal: slower runs, sled runs and build-up runs, "
        "fewer build-up runs. "
    ) in said
    assert athletes_changed(new) == {"ines"}
    assert moved(plan(), new) == []


def joined(brief: Data) -> None:
    newcomer = next(one for one in brief["athletes"] if one["ref"] == "amina") | {
        "ref": "zoe",
        "name": "Zoe Nieuw",
    }
    brief["athletes"].append(newcomer)


def test_a_late_joiner_starts_on_that_day_and_changes_nobody() -> None:
    new = story(joined)
    assert told(new) == [
        "Revision 2: everything until Tue 17 Feb stands as it is.",
        "New: Zoe Nieuw joined.",
        "Zoe Nieuw: all 16 sessions from Thu 19 Feb to Thu 26 Mar added.",
        "Mon 23 Feb, Mon 2 Mar, Mon 9 Mar and Mon 16 Mar, turf, all but Zoe Nieuw: longer session.",
        "Why others change: all but Zoe Nieuw, a longer queue for shared kit.",
    ]
    assert athletes_changed(new) == set()  # fifteen wait longer for two sleds than fourteen
    assert min(s["date"] for who, _, s in sessions_of(whole(new)) if who == "zoe") == "2026-02-19"


def left(brief: Data) -> None:
    brief["athletes"] = [one for one in brief["athletes"] if one["ref"] != "yara"]


def test_who_leaves_keeps_the_days_that_are_over() -> None:
    new = story(left)
    assert told(new) == [
        "Revision 2: everything until Tue 17 Feb stands as it is.",
        "New: Yara Haddadin left.",
        "Yara Haddadin: all 16 sessions from Thu 19 Feb to Thu 26 Mar left out.",
    ]
    mine = [session["date"] for who, _, session in sessions_of(whole(new)) if who == "yara"]
    assert mine[-1] == "2026-02-17"


def test_who_comes_back_changes_nobody_in_a_lighter_week_under_way() -> None:
    without, since = story(left), date(2026, 3, 4)
    new = again(without, since=since, brief=plan().brief.content)
    assert told(new, since=since, old=without) == [
        "Revision 3: everything until Tue 3 Mar stands as it is.",
        "New: Yara Haddadin joined.",
        "Yara Haddadin: all 10 sessions from Thu 5 Mar to Thu 26 Mar added.",
    ]


# ---------------------------------------------------------------------- kit and tests


def no_sled(brief: Data) -> None:
    brief["kit"] = [kit for kit in brief["kit"] if kit["kind"] != "sled"]


def test_both_sleds_lost() -> None:
    new = story(no_sled)
    assert told(new) == [
        "Revision 2: everything until Tue 17 Feb stands as it is.",
        "New: kit gone: sled hall and sled turf.",
        "Mon 23 Feb, Mon 9 Mar and Mon 16 Mar, turf, all 14: sled runs left out.",
        "Mon 2 Mar, turf, all 14: sled runs left out; 6 athletes: more runs.",
    ]
    assert moved(plan(), new) == []


def faster(brief: Data) -> None:
    """Add a second test day on which everybody ran every split two per cent faster."""
    trials = brief["measurements"]["trials"]
    for trial in [one for one in trials if one["sled_kg"] is None]:
        splits = [split | {"time_s": round(0.98 * split["time_s"], 3)} for split in trial["splits"]]
        trials.append(trial | {"date": "2026-02-17", "splits": splits})


def test_a_second_test_day_changes_the_loads_after_it_and_none_before() -> None:
    new = story(faster)
    lines = told(new)
    assert lines[1] == "New: tests of Tue 17 Feb, all 14."
    changes = list(_loads(plan(), new))
    assert changes
    assert min(day for day, _, _ in changes) > "2026-02-17"
    assert all(
        now > was for _, was, now in changes
    )  # stronger on the clock: heavier for the same slowing down
    assert {own.profile for own in new.programmes} == {
        f"{own.athlete}/2026-02-17/gates" for own in plan().programmes
    }
    assert moved(plan(), new) == []


def _loads(old: Programme, new: Programme) -> Iterator[tuple[str, float, float]]:
    sides = [
        {line["ref"]: (s["date"], line) for _, _, s in sessions_of(whole(one)) for line in s["prescriptions"]}
        for one in (old, new)
    ]
    for ref, (day, line) in sides[1].items():
        was = sides[0].get(ref)
        if was and line["method"] == "resisted_sprint" and line["load_kg"] != was[1]["load_kg"]:
            yield day, was[1]["load_kg"], line["load_kg"]
