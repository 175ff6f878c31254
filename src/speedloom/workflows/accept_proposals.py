"""Accepted proposals as one new revision: next loads by hand first, then the rest planned again."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, timedelta

from speedloom.planning.clash import Clash
from speedloom.planning.edited import Change
from speedloom.training.brief import ResolvedBrief
from speedloom.training.document import digest
from speedloom.training.exercise import Catalogue
from speedloom.training.programme import Programme, Revision
from speedloom.training.rule import Rulebook
from speedloom.training.succession import succeeding
from speedloom.workflows.edit import edit
from speedloom.workflows.replan import replan
from speedloom.workflows.sharpen import accept, load_edits
from speedloom.workflows.sharpen_proposal import Proposal


def accept_proposals(
    before: Programme,
    chosen: Sequence[Proposal],
    *,
    on: date,
    why: Callable[[Proposal], str],
    brief: ResolvedBrief | None = None,
    rulebook: Rulebook,
    catalogue: Catalogue,
    progress: Callable[[str, float], None] | None = None,
) -> Programme | Clash:
    """Write accepted numbers into one new revision; the same programme where nothing can be accepted.

    Args:
        before: the revision the proposals were made from.
        chosen: the proposals the coach accepts.
        on: the day of the proposals; lines after it may change.
        why: gives the reason of a changed load in words.
        brief: the programme's brief with the limits and clearances of now; None where they are its own.
        rulebook: the packaged rulebook.
        catalogue: the packaged catalogue.
        progress: called with the athlete being planned and the share that is done.
    """
    if not any(one.acceptable for one in chosen):
        return before
    made = before
    for one, change in load_edits(chosen):
        new = Change(change.ref, change.field, change.value)
        made = edit(made, [new], reason=why(one), rulebook=rulebook)
    content = before.brief.content
    now = brief if brief and content else content
    planned = accept(now, chosen) if now else None
    reason = f"Accepted: {', '.join(one.id for one in chosen if one.acceptable)}"
    planned_again = planned is not None and planned != now
    if planned_again:
        since = on + timedelta(days=1)
        outcome = replan(
            made, since=since, brief=planned, rulebook=rulebook, catalogue=catalogue, reason=reason,
            progress=progress,
        )  # fmt: skip
        if isinstance(outcome, Clash):
            return outcome
        made = outcome
    # The steps in between were never kept anywhere: what is kept follows what was read.
    revision = Revision(
        number=before.revision.number + 1,
        parent=digest(before),
        cause="replan" if planned_again else "edit",
        reason=reason,
        frozen_until=made.revision.frozen_until,
    )
    return succeeding(made, before=before, revision=revision)
