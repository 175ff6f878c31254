"""The first invented squad grown from two athletes and one programme to twelve of each."""

from __future__ import annotations

from uuid import uuid4

from invented_entries import entry
from invented_squads import PROGRAMME, REFS, Squads, brief, limit, one_of, programme_of, sprint
from speedloom.store import athletes, briefs, daily, invitations, links, logs, measurements, programmes
from speedloom.store import restrictions as limits
from speedloom.training.athlete import Athlete
from speedloom.training.document import digest
from speedloom.training.programme import Revision

MORE = tuple(f"athlete_{number}" for number in range(10))


def grown(squads: Squads) -> None:
    """Let the first squad grow: athletes, tests, restrictions, notes, a log, programmes, people, links."""
    keeper, ours = squads.keeper, squads.ours
    for ref in MORE:
        athletes.add_athlete(keeper, ours, Athlete(ref=ref, name=ref.replace("_", " ").title()))
    for ref in (*REFS, *MORE):
        for trial in (1, 2):
            measurements.add_measurements(keeper, ours, sprint(ref, day="2026-01-09", trial=trial))
        limits.set_restriction(keeper, ours, ref, limit())
        daily.add_note(keeper, ours, ref, text="Slept little before the cup")
    latest = programmes.read_programme(keeper, ours, PROGRAMME)
    revision = Revision(
        number=latest.revision.number + 1, parent=digest(latest), cause="edit", reason="More came"
    )
    larger = programme_of((*REFS, *MORE)).model_copy(update={"revision": revision})
    programmes.save_programme(keeper, ours, larger, after=digest(latest))
    for number in range(len(MORE)):
        document = larger.model_copy(update={"id": f"{number:012x}", "revision": Revision()})
        programmes.save_programme(keeper, ours, document, name=f"Block {number}")
        one_of(keeper, ours, "viewer", name=f"viewer_{number}")
        invitations.invite(keeper, ours, role="assistant")
        links.make_link(keeper, ours, PROGRAMME, kind="sheet", athlete="mila")
    logs.append(keeper, ours, PROGRAMME, [entry(uuid4().int, ref) for ref in (*REFS, *MORE)])
    for number in range(2, 8):
        after = briefs.brief(keeper, ours).number
        briefs.save_brief(keeper, ours, brief(f"Spring {number}"), after=after, reason="Another name")
