"""Programmes as revisions that nothing writes over, and a log in which every id is once."""

from __future__ import annotations

import pytest

from invented_entries import entry, next_one
from invented_squads import CANARY, PROGRAMME, Squads, two_athletes
from speedloom.store import links, logs, models, programmes
from speedloom.store.refusals import ConflictError, ExpiredError, NotAllowedError, NotThereError, RefusedError
from speedloom.training.document import canonical, digest
from speedloom.training.programme import Revision


def test_a_programme_comes_out_byte_for_byte(squads: Squads) -> None:
    read = programmes.read_programme(squads.by_role["coach"], squads.ours, PROGRAMME)
    assert canonical(read) == canonical(two_athletes())
    card = programmes.programme_card(squads.by_role["coach"], squads.ours, PROGRAMME)
    assert (card.name, card.revision, card.digest) == ("Spring", 1, digest(read))


def test_a_revision_follows_the_one_it_was_made_from(squads: Squads) -> None:
    coach, first = squads.by_role["coach"], two_athletes()
    second = next_one(first)
    programmes.save_programme(coach, squads.ours, second, after=digest(first))
    assert programmes.read_programme(coach, squads.ours, PROGRAMME) == second
    assert programmes.read_programme(coach, squads.ours, PROGRAMME, number=1) == first
    newest, oldest = programmes.revisions(coach, squads.ours, PROGRAMME)
    assert (newest.number, newest.parent, newest.cause, newest.by) == (2, oldest.digest, "edit", "coach")
    assert newest.reason == "Sore after the cup"


def test_two_who_change_the_same_revision_the_second_is_told(squads: Squads) -> None:
    coach, owner, first = squads.by_role["coach"], squads.by_role["owner"], two_athletes()
    programmes.save_programme(coach, squads.ours, next_one(first), after=digest(first))
    with pytest.raises(ConflictError, match="coach saved revision 2 meanwhile"):
        programmes.save_programme(owner, squads.ours, next_one(first, "Exams"), after=digest(first))
    assert len(programmes.revisions(coach, squads.ours, PROGRAMME)) == 2


def test_sent_twice_is_stored_once(squads: Squads) -> None:
    coach, first = squads.by_role["coach"], two_athletes()
    for _ in range(2):
        card = programmes.save_programme(coach, squads.ours, next_one(first), after=digest(first))
    assert (card.revision, len(programmes.revisions(coach, squads.ours, PROGRAMME))) == (2, 2)


@pytest.mark.parametrize("number", [1, 3])
def test_numbers_follow_each_other(number: int, squads: Squads) -> None:
    coach, first = squads.by_role["coach"], two_athletes()
    wrong = Revision(number=number, parent=digest(first), cause="edit", reason="x")
    with pytest.raises(ConflictError, match="Expected revision 2"):
        programmes.save_programme(
            coach, squads.ours, first.model_copy(update={"revision": wrong}), after=digest(first)
        )


def test_an_athlete_gets_the_own_part_and_not_a_word_of_the_others(squads: Squads) -> None:
    mila = squads.by_role["athlete"]
    part = programmes.read_programme(mila, squads.ours, PROGRAMME)
    assert [own.athlete for own in part.programmes] == ["mila"]
    assert "noa" not in canonical(part)
    used = {
        node for week in part.programmes[0].weeks for session in week.sessions
        for line in session.prescriptions for node in line.basis.values()
    }  # fmt: skip
    assert used <= set(part.basis)
    assert [card.id for card in programmes.programmes(mila, squads.ours)] == [PROGRAMME]


def test_who_may_look_only_changes_nothing(squads: Squads) -> None:
    first = two_athletes()
    for role in ("assistant", "clinician", "athlete", "viewer"):
        with pytest.raises(NotAllowedError):
            programmes.save_programme(squads.by_role[role], squads.ours, next_one(first), after=digest(first))
    with pytest.raises(NotThereError):
        programmes.read_programme(squads.by_role["owner"], squads.theirs, PROGRAMME)
    assert programmes.programmes(squads.by_role["owner"], squads.theirs) == ()


def test_rows_that_last_are_neither_changed_nor_deleted(squads: Squads) -> None:
    row = models.ProgrammeRevision.objects.first()
    row.reason = CANARY
    for attempt in (
        row.save,
        row.delete,
        models.ProgrammeRevision.objects.all().delete,
        lambda: models.LogEntry.objects.update(note=CANARY),
        models.Audit.objects.all().delete,
    ):
        with pytest.raises(RefusedError):
            attempt()
    assert models.ProgrammeRevision.objects.filter(programme__squad__key=squads.ours).count() == 1


def test_entries_sent_again_are_confirmed_again_and_stored_once(squads: Squads) -> None:
    assistant, those = squads.by_role["assistant"], (entry(1), entry(2, "noa"))
    first = logs.append(assistant, squads.ours, PROGRAMME, those)
    again = logs.append(assistant, squads.ours, PROGRAMME, (*those, entry(3)))
    assert first.confirmed == (entry(1).id, entry(2).id)
    assert (again.stored, again.known, again.clashing) == ((entry(3).id,), first.stored, ())
    assert logs.log(assistant, squads.ours, PROGRAMME).entries == (*those, entry(3))


def test_another_entry_with_the_same_id_is_given_back_and_writes_nothing_over(squads: Squads) -> None:
    assistant, other = squads.by_role["assistant"], entry(1, minutes=20)
    logs.append(assistant, squads.ours, PROGRAMME, [entry(1)])
    found = logs.append(assistant, squads.ours, PROGRAMME, [other])
    assert (found.confirmed, found.clashing) == ((), (other,))
    assert logs.log(assistant, squads.ours, PROGRAMME).entries == (entry(1),)


def test_an_athlete_writes_for_themselves_only_and_reads_no_other(squads: Squads) -> None:
    mila = squads.by_role["athlete"]
    with pytest.raises(NotAllowedError):
        logs.append(mila, squads.ours, PROGRAMME, [entry(1), entry(2, "noa")])
    assert logs.log(squads.by_role["coach"], squads.ours, PROGRAMME).entries == ()
    logs.append(squads.by_role["assistant"], squads.ours, PROGRAMME, [entry(1), entry(2, "noa")])
    assert logs.log(mila, squads.ours, PROGRAMME).entries == (entry(1),)


def test_a_link_shows_one_athlete_until_it_is_taken_back(squads: Squads) -> None:
    coach = squads.by_role["coach"]
    card, secret = links.make_link(coach, squads.ours, PROGRAMME, kind="sheet", athlete="noa")
    _, part = links.followed(secret, kind="sheet")
    assert "mila" not in canonical(part)
    assert not models.ShareLink.objects.filter(secret=secret).exists()
    with pytest.raises(ExpiredError):
        links.followed(secret, kind="feed")
    with pytest.raises(NotAllowedError):
        links.make_link(squads.by_role["athlete"], squads.ours, PROGRAMME, kind="feed", athlete="noa")
    links.revoke_link(coach, squads.ours, card.id)
    with pytest.raises(ExpiredError, match="taken back"):
        links.followed(secret, kind="sheet")
