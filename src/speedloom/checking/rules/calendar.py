"""X6, X7: nobody trains who is away, and nothing lies on a closed day."""

from __future__ import annotations

from collections.abc import Iterator

from speedloom.checking.finding import Finding
from speedloom.checking.scene import Scene


def athlete_away(scene: Scene) -> Iterator[Finding]:
    """Find sessions of athletes on days on which they are away."""
    for visit in scene.visits:
        if visit.person.is_away(visit.day):
            yield scene.breach("athlete_away", visit=visit, value=visit.day.isoformat())


def no_training_day(scene: Scene) -> Iterator[Finding]:
    """Find sessions on days that an event closes."""
    closed = [event for event in (scene.brief.events if scene.brief else ()) if event.training == "none"]
    for visit in scene.visits:
        for event in closed:
            if event.covers(visit.day):
                yield scene.breach(
                    "no_training_day",
                    visit=visit,
                    value=visit.day.isoformat(),
                    event=event.title or event.kind,
                )
