"""Who is erased is in no text either: not in what others typed, nor in the list of who did what."""

from __future__ import annotations

from datetime import date

import pytest
from django.apps import apps

from invented_entries import entry, next_one
from invented_squads import REFS, Squads, brief, limit, programme_of, sprint
from speedloom.store import (
    athletes,
    briefs,
    clearances,
    daily,
    erasing,
    logs,
    measurements,
    models,
    programmes,
    restrictions,
)
from speedloom.store.erased_words import INSTEAD, Names
from speedloom.store.packing import plain_text
from speedloom.training.athlete import Athlete
from speedloom.training.calendar import Event
from speedloom.training.document import digest

REF, NAME = "quillon", "Quillon Vantreight"


def everything() -> str:
    """Give every text of every table, documents unpacked."""
    values = [
        value
        for model in apps.get_app_config("store").get_models()
        for row in model._default_manager.values()
        for value in row.values()
    ]
    texts = (plain_text(one) if isinstance(one, bytes | memoryview) else str(one) for one in values)
    return "\n".join(texts)


@pytest.fixture
def written_about(squads: Squads) -> Squads:
    """A squad in which an athlete is named wherever somebody can type."""
    coach, ours = squads.by_role["coach"], squads.ours
    athletes.add_athlete(coach, ours, Athlete(ref=REF, name=NAME))
    measurements.add_measurements(coach, ours, sprint(REF))
    document = programme_of((*REFS, REF)).model_copy(update={"id": "aaaaaaaaaaaa"})
    programmes.save_programme(coach, ours, document, name="With everybody")
    programmes.save_programme(
        coach, ours, next_one(document, f"lighter for Quillon, see {REF}-203"), after=digest(document)
    )
    others = programme_of(REFS).model_copy(update={"id": "bbbbbbbbbbbb"})
    programmes.save_programme(coach, ours, others, name="Without")
    programmes.save_programme(
        coach, ours, next_one(others, "as QUILLON  VANTREIGHT does"), after=digest(others)
    )
    logs.append(coach, ours, "bbbbbbbbbbbb", [entry(1, note="ran behind Quillon"), entry(2, "noa")])
    logs.append(coach, ours, "aaaaaaaaaaaa", [entry(3, REF, note="behind nobody")])
    daily.add_note(coach, ours, "mila", text="Trains with Quillon's group; Vantreight knows")
    for ref in ("mila", REF):
        one = restrictions.set_restriction(coach, ours, ref, limit())
        restrictions.lift_restriction(coach, ours, ref, one.id, reason="seen by Vantreight")
    clearances.record_clearance(
        coach, ours, REF, after="injury", written_by="Dr Who", written_on=date(2026, 1, 5)
    )
    trial = models.Measurement.objects.get(athlete__ref="noa", athlete__squad__key=ours)
    measurements.strike_measurement(coach, ours, trial.pk, reason="it was Quillon who ran")
    content = brief("Spring").model_copy(
        update={"events": (Event(kind="other", title="Quillon turns 18", date=date(2026, 1, 21)),)}
    )
    briefs.save_brief(coach, ours, content, after=1, reason=f"{NAME} has a birthday")
    return squads


def test_no_text_of_any_table_holds_the_name_or_the_short_name(written_about: Squads) -> None:
    assert everything().casefold().count("quillon") > 20
    erasing.erase_athlete(written_about.by_role["owner"], written_about.ours, REF)
    left = everything()
    assert "quillon" not in left.casefold()
    assert "vantreight" not in left.casefold()
    assert left.count(INSTEAD) >= 9


def test_what_others_wrote_stays_otherwise_as_it_was(written_about: Squads) -> None:
    owner, ours = written_about.by_role["owner"], written_about.ours
    erasing.erase_athlete(owner, ours, REF)
    assert [one.text for one in daily.notes(owner, ours, "mila")] == [
        f"Trains with {INSTEAD}'s group; {INSTEAD} knows"
    ]
    assert [one.note for one in logs.log(owner, ours, "bbbbbbbbbbbb").entries] == [
        f"ran behind {INSTEAD}",
        "",
    ]
    assert briefs.brief(owner, ours).brief.events[0].title == f"{INSTEAD} turns 18"
    for ref in ("aaaaaaaaaaaa", "bbbbbbbbbbbb"):
        newest, first = programmes.revisions(owner, ours, ref)
        read = programmes.read_programme(owner, ours, ref)
        assert (newest.digest, newest.parent) == (digest(read), first.digest)
        assert read.revision.reason == newest.reason
        assert [own.athlete for own in read.programmes] == list(REFS)
        programmes.save_programme(owner, ours, next_one(read), after=newest.digest)


def test_only_whole_words_are_names() -> None:
    names = Names("jo", "Jo de Will")
    kept = "jolly, will he run?, mojo, jo_b, jo-b, ejo-12, de-load, Willow"
    assert names.out_of(kept) == kept
    assert names.out_of("jo, Jo-12 and Will; JO DE WILL!") == (
        f"{INSTEAD}, {INSTEAD} and {INSTEAD}; {INSTEAD}!"
    )
    content = {"athlete": "jo", "reason": "jo", "by": "jo", "basis": {"b1": {"reason": None, "value": 1}}}
    assert names.out_of_content(content) == content | {"reason": INSTEAD}
