"""From a programme and its log to proposals: what was logged may move a number, when the coach agrees."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from speedloom.training.athlete import Athlete
from speedloom.training.brief import ResolvedBrief
from speedloom.training.exercise import Catalogue
from speedloom.training.kit import Kit
from speedloom.training.log import Log
from speedloom.training.measurement import Measurements
from speedloom.training.programme import Programme
from speedloom.training.rule import Rulebook
from speedloom.workflows.resolve_brief import place_of
from speedloom.workflows.sharpen_lifts import lift_proposals
from speedloom.workflows.sharpen_loads import load_proposals
from speedloom.workflows.sharpen_proposal import LoadEdit, Proposal, Scene
from speedloom.workflows.sharpen_runs import run_proposals
from speedloom.workflows.sharpen_sleds import sled_proposals
from speedloom.workflows.standing_log import standing_log


def proposals(
    programme: Programme, log: Log, *, on: date, rulebook: Rulebook, catalogue: Catalogue
) -> tuple[Proposal, ...]:
    """Propose sharper numbers from what was logged up to a day; nothing moves by itself.

    A proposal is made only when it changes something printed after that day: a load by a plate or more, an
    expected time by a hundredth of a second or more, or that a test is due. Results marked unusual, and
    results nobody can have meant, change nothing. A programme made by hand has no numbers to sharpen.

    Args:
        programme: the programme as it is now.
        log: the log of this programme.
        on: entries up to this day count; lines after it may change.
        rulebook: the packaged rulebook.
        catalogue: the packaged catalogue.

    Raises:
        LogError: the log is about another programme.
    """
    brief = programme.brief.content
    standing = standing_log(log, programme)
    if brief is None:
        return ()
    scene = Scene(programme, brief, standing, on, rulebook.with_changes(brief.rules), catalogue)
    sharper = (*lift_proposals(scene), *sled_proposals(scene), *run_proposals(scene))
    found = (*sharper, *load_proposals(scene, sharper=sharper))
    return tuple(sorted(found, key=lambda one: (one.athlete or "", one.id)))


def accept(brief: ResolvedBrief, accepted: Iterable[Proposal]) -> ResolvedBrief:
    """Put accepted news into the brief: a lift, a sled's friction, a trial; edits of loads are not in it.

    Rows are added at the end and nothing is taken away, so that what was planned from before still names
    the same rows.

    Args:
        brief: the brief the proposals were made from.
        accepted: the proposals the coach accepts.
    """
    those = tuple(accepted)
    return brief.model_copy(
        update={
            "athletes": tuple(_athlete(one, those) for one in brief.athletes),
            "kit": tuple(_kit(one, those) for one in brief.kit),
            "measurements": _measurements(brief.measurements, those),
            "learned": tuple(
                sorted({*brief.learned, *(trial.ref for one in those for trial in one.news.trials)})
            ),
        }
    )


def _trials_of(accepted: tuple[Proposal, ...]) -> set[str]:
    return {trial.ref for one in accepted for trial in one.news.trials}


def load_edits(accepted: Iterable[Proposal]) -> tuple[tuple[Proposal, LoadEdit], ...]:
    """Give the edits of next loads that the coach accepts, each with the proposal it comes from."""
    return tuple((one, edit) for one in accepted for edit in one.news.edits)


def _athlete(athlete: Athlete, accepted: tuple[Proposal, ...]) -> Athlete:
    rows = [one.news.lift for one in accepted if one.athlete == athlete.ref and one.news.lift is not None]
    new = [row for row in sorted(rows, key=lambda row: row.exercise) if row not in athlete.lifts]
    return athlete.model_copy(update={"lifts": (*athlete.lifts, *new)}) if new else athlete


def _kit(kit: Kit, accepted: tuple[Proposal, ...]) -> Kit:
    found = [one.news.friction for one in accepted if one.news.kit == kit.ref]
    return kit.model_copy(update={"friction": found[-1]}) if found else kit


def _measurements(known: Measurements, accepted: tuple[Proposal, ...]) -> Measurements:
    new = [trial for one in accepted for trial in one.news.trials if trial not in known.trials]
    if not new:
        return known
    return known.model_copy(update={"trials": tuple(sorted((*known.trials, *new), key=place_of))})
