"""What was asked before hard work, as the page shows it; a clinician's no is a clinician's to change."""

from __future__ import annotations

from datetime import date

from django.http import QueryDict

from speedloom.store.athletes import record_screening
from speedloom.store.cards import Actor, AskedCard, AthleteCard, SquadCard
from speedloom.store.refusals import RefusedError
from speedloom.store.screenings import asked_now
from speedloom.web.pages.restrictions.forms import ScreeningForm, first_answers
from speedloom.wording.dates import full_date
from speedloom.wording.screening import asked_text, held_text


def asked_shown(
    actor: Actor, squad: SquadCard, athlete: AthleteCard, form: ScreeningForm | None, *, clinician_here: bool
) -> dict[str, object]:
    """Give the answers of last time, what stands in the way of other ones, and the form for today's."""
    now = asked_now(actor, squad.key, athlete.ref)
    before, last, held = now.screening, now.last, now.held
    fresh = ScreeningForm(initial=first_answers(before), may_clear=_may_clear(squad, held))
    said = f"Asked on {full_date(before.on)}." if before else ""
    return {
        "asked": form or fresh,
        "screening": before,
        "asked_by": asked_text(last.screening, by=last.by, role=last.role) if last else said,
        "held": held_text(
            held.screening,
            by=held.by,
            name=athlete.name,
            clinician=squad.role == "clinician",
            clinician_here=clinician_here,
        )
        if held
        else "",
    }


def answered(
    actor: Actor, squad: SquadCard, athlete: AthleteCard, form: ScreeningForm, *, today: date
) -> bool:
    """Keep what was answered; where it cannot be, the form says why."""
    try:
        record_screening(actor, squad.key, athlete.ref, form.screening(today=today))
    except RefusedError as error:
        form.add_error(None, str(error))
        return False
    return True


def asked_form(actor: Actor, squad: SquadCard, athlete: AthleteCard, typed: QueryDict) -> ScreeningForm:
    """Give the form that was sent, as it was asked of this person."""
    held = asked_now(actor, squad.key, athlete.ref).held
    # A page that was open before the clinician wrote still asks: the store says why it cannot be.
    asked_before = typed.get("cleared") == "yes"
    return ScreeningForm(typed, may_clear=_may_clear(squad, held) or asked_before)


def _may_clear(squad: SquadCard, held: AskedCard | None) -> bool:
    return held is None or squad.role == "clinician"
