"""The session page without a script, the log's door, files sent in: all of it once, nothing overwritten."""

from __future__ import annotations

import html
import io
import json
import re
from datetime import date
from uuid import UUID

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from openpyxl import load_workbook

from field_entries import DAY, SLED, client, entry, here, run, sent, stored
from invented_squads import PROGRAMME, Squads
from speedloom.handouts import files
from speedloom.handouts.papers import Order
from speedloom.store import restrictions
from speedloom.store.programmes import read_programme
from speedloom.training.log import Log


def nonce(page: str) -> str:
    found = re.search(r'name="nonce" value="([^"]+)"', page)
    assert found
    return found[1]


def test_the_door_stores_once_and_confirms_again(squads: Squads) -> None:
    who = squads.by_role["assistant"]
    phone, those = client(who), [entry(1, who, results=[run(1, 3.5)]), entry(2, who, results=[run(2, 3.6)])]
    ids = [one["id"] for one in those]
    assert sent(phone, squads, those)["stored"] == ids
    again = sent(phone, squads, [*those, entry(3, who, results=[run(3, 3.4)])])
    assert (again["known"], again["stored"]) == (ids, [str(UUID(int=3))])
    assert again["by"] == who.login
    assert len(stored(squads)) == 3


def test_another_entry_under_an_id_clashes_and_changes_nothing(squads: Squads) -> None:
    who = squads.by_role["coach"]
    phone = client(who)
    sent(phone, squads, [entry(1, who, results=[run(1, 3.5)])])
    answer = sent(phone, squads, [entry(1, who, results=[run(1, 3.9)])])
    assert [one["id"] for one in answer["clashing"]] == [str(UUID(int=1))]
    assert stored(squads)[0].results[0].time_s == 3.5


def test_a_strange_value_is_kept_marked_and_asked_about_once(squads: Squads) -> None:
    who = squads.by_role["assistant"]
    those = [entry(1, who, results=[run(1, 0.9)]), entry(2, who, results=[run(2, 3.5, load_kg=400.0)])]
    answer = sent(client(who), squads, those)
    assert [(one["id"], one["rep"]) for one in answer["asked"]] == [(those[0]["id"], 1), (those[1]["id"], 2)]
    assert all(one["question"].count("?") for one in answer["asked"])
    assert [one.results[0].mark for one in stored(squads)] == ["unusual", "unusual"]
    # Sent again without the mark, as the phone has it, it is the same entry.
    assert len(sent(client(who), squads, those)["known"]) == 2


def test_one_that_cannot_be_stays_with_its_message_and_the_others_are_stored(squads: Squads) -> None:
    who = squads.by_role["assistant"]
    good = entry(1, who, results=[run(1, 3.5)])
    wrong = [
        entry(2, who, line="mila-999"),
        entry(3, who, results=[run(1, 4000.0)]),
        entry(4, who, status="perhaps"),
        entry(5, squads.by_role["coach"]),
    ]
    answer = sent(client(who), squads, [*wrong, good])
    why = {one["id"]: one["why"] for one in answer["refused"]}
    assert answer["stored"] == [good["id"]]
    assert set(why) == {one["id"] for one in wrong}
    assert "a line of mila-200" in why[wrong[0]["id"]]
    assert "600" in why[wrong[1]["id"]]
    assert "status" in why[wrong[2]["id"]]
    assert "typed this and assistant is signed in" in why[wrong[3]["id"]]
    sent(client(who), squads, wrong, status=422)


@pytest.mark.parametrize("body", ["", "[]", '{"entries": 3}', '{"entries": [3]}', "{"])
def test_what_is_no_list_of_entries_is_refused_whole(squads: Squads, body: str) -> None:
    answer = client(squads.by_role["coach"]).post(
        here(squads, "written/"), body, content_type="application/json"
    )
    assert answer.status_code == 422
    assert "entries" in answer.json()["problem"]


def test_an_athlete_writes_their_own_only(squads: Squads) -> None:
    who = squads.by_role["athlete"]
    own = f"/squads/{squads.ours}/athletes/mila/programmes/{PROGRAMME}/written/"
    body = {"entries": [entry(1, who), entry(2, who, athlete="noa", session="noa-200", line="noa-203")]}
    answer = client(who).post(own, json.dumps(body), content_type="application/json").json()
    assert answer["stored"] == [str(UUID(int=1))]
    assert [one["id"] for one in answer["refused"]] == [str(UUID(int=2))]
    assert client(who).get(own.replace("mila", "noa")).status_code == 403
    assert client(who).get(f"{own}?date={DAY}").json()["count"] == 1


def test_what_is_written_of_a_day_comes_with_a_token_and_only_when_it_is_new(squads: Squads) -> None:
    who = squads.by_role["assistant"]
    phone = client(who)
    sent(phone, squads, [entry(1, who, results=[run(1, 3.5)])])
    found = phone.get(here(squads, f"written/?date={DAY}")).json()
    assert (found["count"], found["by"], len(found["entries"])) == (1, who.login, 1)
    assert found["token"]
    assert "entries" not in phone.get(here(squads, f"written/?date={DAY}&have=1")).json()
    assert phone.get(here(squads, "written/?date=2026-01-12")).json()["count"] == 0


def test_a_stop_for_pain_sets_one_limit_however_often_it_is_sent(squads: Squads) -> None:
    who = squads.by_role["assistant"]
    stop = entry(7, who, status="stopped", reason="pain")
    for _ in range(2):
        sent(client(who), squads, [stop])
    found = [one for one in restrictions.restrictions(squads.keeper, squads.ours) if one.athlete == "mila"]
    (one,) = found
    (limit,) = one.restriction.limits
    assert (limit.what, limit.at_most, limit.exercise) == ("sets", 0, "sled_sprint")
    assert one.restriction.from_ == date(2026, 1, 19)
    assert one.restriction.until is None
    assert (one.restriction.set_by, one.restriction.set_as) == (who.name, "coach")
    sent(client(who), squads, [entry(8, who, status="stopped", reason="weather")])
    assert len(restrictions.restrictions(squads.keeper, squads.ours)) == len(found)


def test_the_page_shows_every_exercise_the_warm_up_and_the_cautions(squads: Squads) -> None:
    page = client(squads.by_role["assistant"]).get(here(squads)).content.decode()
    for said in ("Sled sprint", "37.5 kg", "3.48", "Before the start", "go to a professional",
                 "Rope and harness", "Two adults with minors", "Where help comes to"):  # fmt: skip
        assert said in page
    assert 'aria-label="Mila, run 1"' in page
    assert 'aria-label="Noa, run 1"' in page


def test_a_viewer_looks_and_cannot_write(squads: Squads) -> None:
    found = client(squads.by_role["viewer"])
    page = found.get(here(squads)).content.decode()
    assert "Only to look at" in page
    assert "session.js" not in page
    assert found.post(here(squads), {"do": "boxes"}).status_code == 403


@pytest.mark.parametrize("day", ["2026-01-20", "2027-01-01"])
def test_a_day_without_training_says_so(squads: Squads, day: str) -> None:
    page = client(squads.by_role["coach"]).get(here(squads, f"sessions/{day}/"))
    assert page.status_code == 200
    assert "Nobody trains on this day" in page.content.decode()
    assert client(squads.by_role["coach"]).get(here(squads, "sessions/soon/")).status_code == 404


def test_boxes_without_a_script_are_new_entries_and_corrections(squads: Squads) -> None:
    found = client(squads.by_role["assistant"])
    first = {f"box:{SLED}.1.1": "3,52", f"box:{SLED}.1.2": "x", "nonce": "one"}
    for _ in range(2):
        assert found.post(here(squads), first).status_code == 302
    (one,) = stored(squads)
    assert [(each.rep, each.time_s, each.load_kg) for each in one.results] == [
        (1, 3.52, 37.5),
        (2, None, 37.5),
    ]
    assert (one.timing, one.clock, one.behind_m) == ("gates", "behind", 0.5)
    page = found.get(here(squads)).content.decode()
    assert f'name="was:{SLED}.1.1" value="3.52"' in page
    changed = {**first, f"box:{SLED}.1.1": "3.25", "nonce": "two"}
    changed |= {f"was:{SLED}.1.1": "3.52", f"was:{SLED}.1.2": "x"}
    found.post(here(squads), changed)
    correction = stored(squads)[-1]
    assert correction.replaces == one.id
    assert [each.time_s for each in correction.results] == [3.25, None]


def test_a_form_that_was_open_while_somebody_else_wrote_overwrites_nothing(squads: Squads) -> None:
    coach, helper = client(squads.by_role["coach"]), client(squads.by_role["assistant"])
    coach.post(here(squads), {f"box:{SLED}.1.1": "3.52", "nonce": "one"})
    helper.post(here(squads), {f"box:{SLED}.1.1": "3.71", "nonce": "two"})
    first, other = stored(squads)
    assert other.replaces is None
    page = coach.get(here(squads)).content.decode()
    assert "Two values: Mila, Sled sprint, set 1, run 1" in page
    assert all(word in page for word in ("3.52", "3.71", "coach", "assistant"))
    about = re.search(r'name="about" value="([^"]+)"', page)
    assert about
    coach.post(here(squads), {"do": "choose", "about": about[1], "entry": first.id, "nonce": nonce(page)})
    chosen = stored(squads)[-1]
    assert (chosen.replaces, chosen.results[0].time_s, chosen.by) == (other.id, 3.52, "coach")
    assert "Two values" not in coach.get(here(squads)).content.decode()


def test_what_cannot_be_read_comes_back_with_everything_else(squads: Squads) -> None:
    found = client(squads.by_role["assistant"])
    answer = found.post(here(squads), {f"box:{SLED}.1.1": "fast", f"box:{SLED}.1.2": "3.6", "nonce": "one"})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Expected a time" in page
    assert 'value="fast"' in page
    assert 'value="3.6"' in page


def test_done_as_written_leaves_alone_what_is_written(squads: Squads) -> None:
    found = client(squads.by_role["assistant"])
    found.post(here(squads), {f"box:{SLED}.1.1": "3.52", "nonce": "one"})
    found.post(here(squads), {"do": f"group:{SLED} noa-203 ", "nonce": "two"})
    mila, noa = stored(squads)[1:]
    assert [each.rep for each in mila.results] == [2, 3, 4]
    assert [each.rep for each in noa.results] == [1, 2, 3, 4]
    assert {each.time_s for each in (*mila.results, *noa.results)} == {None}


@pytest.mark.parametrize(
    ("what", "status", "line"),
    [
        ("stop", "stopped", SLED),
        ("skip", "skipped", SLED),
        ("modify", "modified", SLED),
        ("late", "modified", None),
        ("absent", "absent", None),
    ],
)
def test_what_went_otherwise(squads: Squads, what: str, status: str, line: str | None) -> None:
    found = client(squads.by_role["assistant"])
    found.post(here(squads), {"do": "else", "line": SLED, "what": what, "reason": "weather", "nonce": "one"})
    (one,) = stored(squads)
    assert (one.status, one.line, one.session) == (status, line, "mila-200")
    assert one.reason == ("time" if what == "late" else "weather")


def test_paper_saves_the_sheet_as_written_but_for_what_was_typed_over(squads: Squads) -> None:
    found = client(squads.by_role["assistant"])
    page = found.get(here(squads, f"sessions/{DAY}/paper/")).content.decode()
    form = dict(re.findall(r'name="(box:[^"]+)" value="([^"]*)"', page))
    assert set(form.values()) == {"x"}
    form |= {f"box:{SLED}.1.1": "3.61", f"box:{SLED}.1.4": "-", "box:noa-202.1.1": "a", "effort:mila": "7"}
    for _ in range(2):
        answer = found.post(here(squads, f"sessions/{DAY}/paper/"), form | {"nonce": nonce(page)})
        assert answer.status_code == 302
    by = {(one.athlete, one.line): one for one in stored(squads)}
    assert len(by) == len(stored(squads))
    assert [(each.rep, each.time_s) for each in by["mila", SLED].results] == [(1, 3.61), (2, None), (3, None)]
    assert by["noa", None].status == "absent"
    assert {line for who, line in by if who == "noa"} == {None}
    assert by["mila", None].effort == 7
    assert len(by["mila", "mila-204"].results) == 4


def test_paper_with_a_fault_saves_nothing(squads: Squads) -> None:
    found = client(squads.by_role["assistant"])
    form = {f"box:{SLED}.1.1": "3.61", f"box:{SLED}.1.2": "quick", "effort:mila": "11", "nonce": "one"}
    answer = found.post(here(squads, f"sessions/{DAY}/paper/"), form)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert stored(squads) == ()
    assert "got 11" in page
    assert 'value="quick"' in page
    assert 'value="11"' in page


def file(name: str, content: bytes) -> SimpleUploadedFile:
    return SimpleUploadedFile(name, content)


def looked(found: Client, squads: Squads, upload: SimpleUploadedFile, *, status: int = 200) -> str:
    answer = found.post(here(squads, f"sessions/{DAY}/sent-in/"), {"file": upload})
    assert answer.status_code == status
    return answer.content.decode()


def kept(found: Client, squads: Squads, page: str) -> None:
    text = re.search(r'name="entries" value="([^"]*)"', page)
    assert text
    seal = re.search(r'name="seal" value="([^"]+)"', page)
    assert seal
    form = {"entries": html.unescape(text[1]), "seal": seal[1]}
    found.post(here(squads, f"sessions/{DAY}/sent-in/"), form)


def test_a_phones_file_is_looked_at_then_stored_once_with_who_typed_it(squads: Squads) -> None:
    who, found = squads.by_role["assistant"], client(squads.by_role["coach"])
    log = {"schema": "speedloom.log/1", "programme": PROGRAMME, "timezone": "Europe/Amsterdam",
           "entries": [entry(1, who, results=[run(1, 0.9)])]}  # fmt: skip
    upload = json.dumps(log).encode()
    page = looked(found, squads, file("log.json", upload))
    assert "1 new entry" in page
    assert "0.9 s?" in page
    assert stored(squads) == ()
    kept(found, squads, page)
    (one,) = stored(squads)
    assert (one.by, one.results[0].mark) == (who.login, "unusual")
    assert "assistant, sent in by coach" in page
    assert one.sent_by == "coach", "the log says both"
    assert "1 known already" in looked(found, squads, file("log.json", upload))


def test_what_was_looked_at_cannot_become_another_text(squads: Squads) -> None:
    """Between the look and the confirmation the text is sealed, for this person alone."""
    who, other = (client(squads.by_role[role]) for role in ("coach", "assistant"))
    log = {"schema": "speedloom.log/1", "programme": PROGRAMME, "timezone": "Europe/Amsterdam",
           "entries": [entry(1, squads.by_role["assistant"], results=[run(1, 3.5)])]}  # fmt: skip
    page = looked(who, squads, file("log.json", json.dumps(log).encode()))
    kept(other, squads, page)
    for old, new in (("3.5", "3.1"), ("assistant", "coach"), ('name="seal" value="', 'name="seal" value="x')):
        assert old in page
        kept(who, squads, page.replace(old, new))
    assert stored(squads) == ()
    kept(who, squads, page)
    assert len(stored(squads)) == 1


def test_nobody_can_write_that_another_sent_it_in(squads: Squads) -> None:
    who = squads.by_role["assistant"]
    sent(client(who), squads, [entry(1, who, sent_by="coach", results=[run(1, 3.5)])])
    (one,) = stored(squads)
    assert one.sent_by is None
    assert "sent_by" not in one.model_dump_json(), "a log that nobody sent in is written as before"


def test_a_filled_workbook_comes_back(squads: Squads) -> None:
    document = read_programme(squads.keeper, squads.ours, PROGRAMME)
    book = load_workbook(io.BytesIO(files.workbook_of(document, Order())))
    sheet, row = next(
        (sheet, row)
        for sheet in book
        for row in range(1, sheet.max_row + 1)
        if sheet.cell(row, 1).value == SLED
    )
    heads = next(at for at in range(row, 0, -1) if "1" in {str(cell.value) for cell in sheet[at]})
    column = next(cell.column for cell in sheet[heads] if str(cell.value) == "1")
    sheet.cell(row, column).value = "3.58"
    out = io.BytesIO()
    book.save(out)
    found = client(squads.by_role["assistant"])
    kept(found, squads, looked(found, squads, file("week.xlsx", out.getvalue())))
    (one,) = stored(squads)
    assert (one.line, one.results[0].time_s, one.by) == (SLED, 3.58, "assistant")


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("log.json", b"{}"),
        ("log.txt", b"3.5"),
        ("table.csv", b"line,time_s\nmila-999,3.5\n"),
        ("week.xlsx", b"no book"),
    ],
)
def test_every_fault_of_a_file_is_shown_and_nothing_is_saved(
    squads: Squads, name: str, content: bytes
) -> None:
    page = looked(client(squads.by_role["assistant"]), squads, file(name, content), status=422)
    assert "nothing was saved" in page
    assert name in page
    assert "/tmp" not in page  # noqa: S108 - what must not be said
    assert stored(squads) == ()


def test_what_a_phone_saves_is_a_log_that_the_command_line_takes(squads: Squads) -> None:
    who = squads.by_role["assistant"]
    sent(client(who), squads, [entry(1, who, results=[run(1, 3.5)])])
    assert Log.model_validate_json(
        json.dumps({"schema": "speedloom.log/1", "programme": PROGRAMME, "timezone": "Europe/Amsterdam",
                    "entries": [entry(1, who, results=[run(1, 3.5)])]})
    ).entries == stored(squads)  # fmt: skip


def test_an_athletes_session_shows_nobody_else(squads: Squads) -> None:
    sent(client(squads.by_role["coach"]), squads, [entry(1, squads.by_role["coach"], athlete="noa",
         session="noa-200", line="noa-203", results=[run(1, 3.77)])])  # fmt: skip
    own = f"/squads/{squads.ours}/athletes/mila/programmes/{PROGRAMME}/sessions/{DAY}/?on={DAY}"
    page = client(squads.by_role["athlete"]).get(own).content.decode()
    assert SLED in page
    assert "noa" not in page
    assert "3.77" not in page
    client(squads.by_role["athlete"]).post(own, {f"box:{SLED}.1.1": "3.52", "nonce": "one"})
    assert (stored(squads)[-1].athlete, stored(squads)[-1].by) == ("mila", "athlete")


def test_the_worker_is_asked_for_anew_and_holds_nobodys_data(squads: Squads) -> None:
    answer = client(squads.by_role["assistant"]).get("/worker.js")
    assert answer["Content-Type"] == "text/javascript"
    assert answer["Cache-Control"] == "no-cache"
    assert b"mila" not in answer.content.lower()
