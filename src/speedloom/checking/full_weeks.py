"""For whom and when the lower ends of volumes hold: competitive sprinters in full loading weeks."""

from __future__ import annotations

from speedloom.checking.people import Person
from speedloom.checking.scene import Scene, Visit
from speedloom.training.programme import Week


def is_competitive_sprinter(scene: Scene, person: Person) -> bool:
    """Say whether the athlete trains for sprint races: advanced, a race distance, and no team matches."""
    if scene.brief is None or person.level("unloaded_sprint") != "advanced":
        return False
    races = (scene.brief.goal.distance_m or 0.0) >= scene.number("top_speed_dose", "race_from_m")
    return races and all(event.kind != "match" for event in scene.brief.events)


def is_full(person: Person, week: Week) -> bool:
    """Say whether a loading week wants as much as any of its mesocycle."""
    if week.kind != "loading":
        return False
    wanted = {
        other.number: _wanted(other) for other in person.programme.weeks if other.mesocycle == week.mesocycle
    }
    return _wanted(week) >= max(wanted.values())


def _wanted(week: Week) -> float:
    return sum(volume.wanted for volume in week.volumes.values() if volume.unit == "m")


def lower_ends_hold(scene: Scene, visit: Visit) -> bool:
    """Say whether lower ends are asked for in a session."""
    return is_competitive_sprinter(scene, visit.person) and is_full(visit.person, visit.week)
