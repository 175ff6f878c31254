"""Calendars: one event a session, the same event when it moves, cancelled when it goes.

Must show: ICS re-read by two independent libraries, with the case of `tables/ics_rrule_case.csv` and a
changed, a moved and a cancelled session.
"""

from __future__ import annotations

from copy import deepcopy
from datetime import UTC, date, datetime
from typing import Any

import icalendar
import pytest
import recurring_ical_events
import vobject

from published import rows
from small_programme import document, small_programme
from speedloom.errors import SpeedloomError
from speedloom.exchange.calendar_file import calendar_file
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.wording.units import Units

STAMP = datetime(2026, 1, 5, 12, 0, tzinfo=UTC)
SPAN = (date(2025, 12, 1), date(2026, 12, 31))


def written(programme: Programme, **more: Any) -> bytes:  # noqa: ANN401 — what is asked of the writer
    return calendar_file(programme, stamp=STAMP, catalogue=load_catalogue(), **more)


def by_first_library(content: bytes) -> dict[str, tuple[str, ...]]:
    """Read uid → (start, end, status, sequence, title, text) with icalendar and recurring-ical-events."""
    calendar = icalendar.Calendar.from_ical(content)
    return {
        str(event["uid"]): (
            event.start.isoformat(), event.end.isoformat(), str(event["status"]), str(event["sequence"]),
            str(event["summary"]), str(event.get("description", "")),
        )
        for event in recurring_ical_events.of(calendar).between(*SPAN)
    }  # fmt: skip


def by_second_library(content: bytes) -> dict[str, tuple[str, ...]]:
    """Read the same with vobject, which works the zone out of the file's own VTIMEZONE."""
    calendar = vobject.readOne(content.decode())
    return {
        event.uid.value: (
            event.dtstart.value.isoformat(), event.dtend.value.isoformat(), event.status.value,
            event.sequence.value, event.summary.value,
            event.description.value if hasattr(event, "description") else "",
        )
        for event in calendar.vevent_list
    }  # fmt: skip


def read(content: bytes) -> dict[str, tuple[str, ...]]:
    """Read with both; they must agree in everything."""
    first, second = by_first_library(content), by_second_library(content)
    assert first == second
    return first


def sessions(content: dict[str, Any]) -> list[dict[str, Any]]:
    return [session for week in content["programmes"][0]["weeks"] for session in week["sessions"]]


def test_two_libraries_read_every_session_with_its_offset() -> None:
    events = read(written(small_programme()))
    assert len(events) == 8
    start, end, status, sequence, title, text = events["4f1c2a90b7de.mila-200"]
    assert (start, end) == ("2026-01-19T18:00:00+01:00", "2026-01-19T19:00:00+01:00")
    assert (status, sequence) == ("CONFIRMED", "1")
    assert title == "mila: heavier day, sprint, resisted sprint and plyometric"
    assert "Sled sprint: 4 × 10 m, 37.5 kg; expect 3.48 s (3.36–3.61); rest 2.5 min" in text
    assert "Pain, dizziness, chest symptoms or a head knock end the session" in text
    assert "Rope and harness checked" in text


def test_the_published_case_across_the_change_of_the_clock() -> None:
    # tables/ics_rrule_case.csv: Mondays and Wednesdays 17:00 in Berlin, one left out, clocks change 29 March.
    wanted = [row["start"] for row in rows("ics_rrule_case")]
    content = document()
    content["timezone"] = "Europe/Berlin"
    days = ["2026-03-23", "2026-03-25", "2026-04-01", "2026-04-06", "2026-04-08"]
    kept = sessions(content)[:5]
    for session, day in zip(kept, days, strict=True):
        session.update(date=day, start="17:00")
    weeks = content["programmes"][0]["weeks"]
    weeks[0]["sessions"], weeks[1]["sessions"], weeks[2]["sessions"] = kept[:2], kept[2:3], kept[3:]
    weeks[3]["sessions"] = []
    events = read(written(small_programme(content)))
    assert sorted(start for start, *_ in events.values()) == wanted
    rule = (
        b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//test//EN\r\nBEGIN:VEVENT\r\nUID:1\r\n"
        b"DTSTART;TZID=Europe/Berlin:20260323T170000\r\nRRULE:FREQ=WEEKLY;BYDAY=MO,WE;COUNT=6\r\n"
        b"EXDATE;TZID=Europe/Berlin:20260330T170000\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
    )
    repeated = recurring_ical_events.of(icalendar.Calendar.from_ical(rule)).between(*SPAN)
    assert sorted(event.start.isoformat() for event in repeated) == wanted


def test_a_changed_a_moved_and_a_cancelled_session() -> None:
    old, new = document(), deepcopy(document())
    new["revision"] = {"number": 2, "parent": "sha256:00", "cause": "replan"}
    changed, moved, *_ = sessions(new)
    changed["prescriptions"][1]["reps"] = 9
    moved.update(date="2026-01-16", start="20:00")
    gone = new["programmes"][0]["weeks"][3]["sessions"].pop()["ref"]
    before = read(written(small_programme(old)))
    after = read(written(small_programme(new), since=small_programme(old)))
    assert set(after) == set(before)
    assert {sequence for _, _, _, sequence, *_ in after.values()} == {"2"}
    assert "9 × 10 m" in after["4f1c2a90b7de.mila-100"][5]
    assert after["4f1c2a90b7de.mila-100"][0] == before["4f1c2a90b7de.mila-100"][0]
    assert after["4f1c2a90b7de.mila-150"][0] == "2026-01-16T20:00:00+01:00"
    assert after["4f1c2a90b7de.mila-150"][2] == "CONFIRMED"
    start, _, status, _, title, text = after[f"4f1c2a90b7de.{gone}"]
    assert (start, status, text) == (before[f"4f1c2a90b7de.{gone}"][0], "CANCELLED", "")
    assert title.startswith("Cancelled: ")
    assert [uid for uid, event in after.items() if event[2] == "CANCELLED"] == [f"4f1c2a90b7de.{gone}"]


def test_no_alarm_rings_and_the_file_says_it_is_published() -> None:
    content = written(small_programme())
    assert b"VALARM" not in content
    assert b"METHOD:PUBLISH\r\n" in content
    assert content.count(b"BEGIN:VTIMEZONE") == 1
    assert b"DTSTAMP:20260105T120000Z" in content
    assert max(map(len, content.split(b"\r\n"))) <= 75
    assert content == written(small_programme())


def test_an_athlete_sees_nobody_else_and_no_name_in_the_title() -> None:
    content = document()
    other = deepcopy(content["programmes"][0])
    other["athlete"] = "noa"
    for week in other["weeks"]:
        for session in week["sessions"]:
            session["ref"] = session["ref"].replace("mila", "noa")
    content["programmes"].append(other)
    own = written(small_programme(content), athlete="noa")
    assert b"mila" not in own.replace(b"mila-", b"")
    assert {uid.partition(".")[2][:4] for uid in read(own)} == {"noa-"}
    assert {event[4].partition(":")[1] for event in read(own).values()} == {""}
    assert len(read(written(small_programme(content), week=2))) == 4


def test_pounds_and_yards_in_the_text() -> None:
    text = read(written(small_programme(), units=Units(mass="lb", length="yd")))["4f1c2a90b7de.mila-200"][5]
    assert "4 × 10.9 yd" in text
    assert "82.7 lb" in text


def test_a_name_with_signs_stays_one_line_of_text() -> None:
    content = document()
    for session in sessions(content):
        line = session["prescriptions"][-1]
        line.update(exercise="own_line", cue="a;b,c\\n\x07\nX-EVIL:1 ★", method="other")
    events = read(written(small_programme(content)))
    assert "a;b,c\\n \nX-EVIL:1 ★" in events["4f1c2a90b7de.mila-100"][5]
    assert b"\r\nX-EVIL" not in written(small_programme(content))


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"timezone": "Mars/Olympus"}, "Expected a time zone such as Europe/Amsterdam, got Mars/Olympus"),
        ({"id": "000000000000"}, "Expected an earlier revision of programme 000000000000"),
        ({"revision": {"number": 1}}, "the two programmes stand in the wrong order"),
    ],
)
def test_what_cannot_be_is_said(change: dict[str, Any], said: str) -> None:
    since = small_programme({**document(), "revision": {"number": 2}})
    programme = small_programme({**document(), "revision": {"number": 3}, **change})
    with pytest.raises(SpeedloomError, match=said):
        written(programme, since=since)
