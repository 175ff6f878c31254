"""Whoever is above a limit that holds now is marked on the field, and left out of "as written" for all."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date

import pytest

from field_entries import client, stored
from invented_squads import PROGRAMME, Squads
from living_site import LivingSite
from speedloom.store.cards import Role
from speedloom.store.links import make_link
from speedloom.store.programmes import read_programme
from speedloom.store.restrictions import set_restriction
from speedloom.training.athlete import Limit, Restriction
from unit.report.pdf_reading import page_texts

LIMITED = "mila"
WRITERS: tuple[tuple[Role, bool], ...] = (("owner", True), ("coach", True), ("assistant", True))
SAID = "Not as written. Limit: no "


@dataclass(frozen=True)
class Sled:
    """The last evening with sleds: its page, the limited athlete's line and the others'."""

    address: str
    query: str
    day: date
    own: str
    others: frozenset[str]

    @property
    def page(self) -> str:
        return f"{self.address}{self.query}"


@pytest.fixture
def sled(lived: LivingSite) -> Sled:
    found = [
        (athlete, session.date, line.ref)
        for athlete, session in lived.document().sessions()
        for line in session.prescriptions
        if line.exercise == "sled_sprint"
    ]
    day = max(on for athlete, on, _ in found if athlete == LIMITED)
    refs = {athlete: ref for athlete, on, ref in found if on == day}
    others = frozenset(ref for athlete, ref in refs.items() if athlete != LIMITED)
    assert others
    return Sled(
        f"{lived.here}sessions/{day.isoformat()}/", f"?on={day.isoformat()}", day, refs[LIMITED], others
    )


def limited(lived: LivingSite, since: date) -> None:
    said = {"set_by": "The coach", "set_as": "coach", "set_on": since, "from": since}
    limits = (Limit(what="sets", at_most=0, exercise="sled_sprint"),)
    new = Restriction.model_validate({"ref": "no_sled", "limits": limits, **said})
    set_restriction(lived.coach, lived.key, LIMITED, new)


def row(page: str, line: str) -> str:
    return page.partition(f'id="row-{line}"')[2].partition('class="boxes"')[0]


def everybody(page: str) -> set[str]:
    return {ref for group in re.findall(r'value="group:([^"]*)"', page) for ref in group.split()}


def test_without_a_limit_everybody_is_as_written(lived: LivingSite, sled: Sled) -> None:
    page = lived.page(sled.page)
    assert {sled.own, *sled.others} <= everybody(page)
    assert SAID not in row(page, sled.own)


def test_who_is_above_a_limit_is_marked_and_left_out_of_everybody(lived: LivingSite, sled: Sled) -> None:
    limited(lived, sled.day)
    page = lived.page(sled.page)
    assert SAID in row(page, sled.own)
    assert sled.own not in everybody(page)
    assert sled.others <= everybody(page)
    assert not any(SAID in row(page, other) for other in sled.others)


def test_a_sheet_from_paper_is_not_filled_in_for_them(lived: LivingSite, sled: Sled) -> None:
    limited(lived, sled.day)
    page = lived.page(f"{sled.address}paper/{sled.query}")
    assert re.search(rf'name="box:{sled.own}\.1\.1" value=""', page)
    assert all(re.search(rf'name="box:{other}\.1\.1" value="x"', page) for other in sled.others)


def test_who_may_not_see_health_sees_no_mark(lived: LivingSite, sled: Sled) -> None:
    limited(lived, sled.day)
    assert "Not as written" not in lived.page(sled.page, who="viewer")


def by_hand(squads: Squads) -> tuple[str, str, str]:
    """Give the field page of the programme made by hand, mila's line of an exercise, and noa's."""
    document = read_programme(squads.keeper, squads.ours, PROGRAMME)
    assert document.brief.content is None
    day = min(session.date for _, session in document.sessions())
    lines = {
        athlete: next(line.ref for line in session.prescriptions if line.purpose == "work")
        for athlete, session in document.sessions()
        if session.date == day
    }
    return (
        f"/squads/{squads.ours}/programmes/{PROGRAMME}/sessions/{day}/?on={day}",
        lines["mila"],
        lines["noa"],
    )


def stopped(squads: Squads) -> None:
    said = {"set_by": "Physio Ann", "set_as": "clinician", "from": date(2026, 1, 1)}
    new = Restriction.model_validate({"ref": "rest", "limits": (Limit(what="minutes", at_most=0),), **said})
    set_restriction(squads.by_role["clinician"], squads.ours, "mila", new)


@pytest.mark.parametrize(("role", "writes"), [*WRITERS, ("clinician", False)])
def test_a_programme_made_by_hand_marks_and_leaves_out_too(
    squads: Squads, role: Role, *, writes: bool
) -> None:
    where, own, other = by_hand(squads)
    looks = client(squads.by_role[role])
    before = looks.get(where).content.decode()
    # Who reads only has no such button at all; the names are there for everybody.
    assert {own, other} & everybody(before) == ({own, other} if writes else set())
    assert "Noa" in row(before, other)
    assert "Not as written" not in before
    stopped(squads)
    page = looks.get(where).content.decode()
    assert "Not as written. Limit: no training" in row(page, own)
    assert "Not as written" not in row(page, other)
    assert {own, other} & everybody(page) == ({other} if writes else set())
    assert "Mila: no training" in page


def test_a_programme_made_by_hand_tells_a_viewer_no_limit(squads: Squads) -> None:
    where, own, _other = by_hand(squads)
    stopped(squads)
    answer = client(squads.by_role["viewer"]).get(where)
    page = answer.content.decode()
    assert answer.status_code == 200
    assert "Mila" in row(page, own)
    assert "no training" not in page
    assert "no training" in client(squads.by_role["coach"]).get(where).content.decode()


def test_a_page_older_than_the_limit_writes_nobody_limited_as_done(squads: Squads) -> None:
    where, own, other = by_hand(squads)
    coach = client(squads.by_role["coach"])
    form = {"do": f"group:{own} {other}", "nonce": "old", "on": where[-10:]}
    stopped(squads)
    page = coach.post(where, form, follow=True).content.decode()
    assert {one.athlete for one in stored(squads)} == {"noa"}
    assert "Not written as done: Mila, " in page
    assert "(limit: no training" in page
    coach.post(where, {**form, "do": f"all:{own}"})
    assert own in {one.line for one in stored(squads)}, "by hand it is written"


def test_papers_and_a_link_of_a_programme_made_by_hand_name_the_limit(squads: Squads) -> None:
    stopped(squads)
    papers = f"/squads/{squads.ours}/programmes/{PROGRAMME}/hand-out/athlete/?week=1&athlete=mila"
    answer = client(squads.by_role["coach"]).get(papers)
    assert "no training" in "".join(page_texts(answer.content)).lower()
    _card, secret = make_link(squads.by_role["coach"], squads.ours, PROGRAMME, kind="sheet", athlete="mila")
    assert "no training" in client(squads.by_role["viewer"]).get(f"/sheet/{secret}/").content.decode().lower()
