"""P1, P3 to P7: contacts, drops, added mass and blocks of plyometrics."""

from __future__ import annotations

from collections.abc import Iterator

from speedloom.checking.finding import Finding
from speedloom.checking.full_weeks import lower_ends_hold
from speedloom.checking.people import Person
from speedloom.checking.scene import Scene, Visit, at
from speedloom.checking.squat import squat_one_rep_max_kg

SHOCK = "shock"


def contacts_session(scene: Scene) -> Iterator[Finding]:
    """Find sessions with more contacts than the level's ceiling; an unknown level gets the highest one."""
    for visit in scene.visits:
        contacts = float(sum(work.contacts for work in visit.work))
        level = visit.person.level("plyometric")
        if contacts > scene.number("contacts_session", level or "advanced"):
            yield scene.breach("contacts_session", level or "advanced", visit=visit, value=contacts)
        elif level and contacts and has_jumps(visit) and lower_ends_hold(scene, visit):
            low = f"{level}_low"
            if contacts < scene.number("contacts_session", low):
                yield scene.breach("contacts_session", low, visit=visit, value=contacts)


def has_jumps(visit: Visit) -> bool:
    """Say whether a session holds plyometric work."""
    return any(work.line.method == "plyometric" for work in visit.work)


def depth_jump_mass(scene: Scene) -> Iterator[Finding]:
    """Find drops too high for athletes above 100 kg."""
    for visit, work in scene.lines:
        heavy = (work.person.mass_kg or 0.0) > scene.number("depth_jump_mass", "mass_kg")
        height = work.line.height_m or 0.0
        if heavy and SHOCK in work.tags and height > scene.number("depth_jump_mass", "height_m"):
            yield scene.breach("depth_jump_mass", "height_m", visit=visit, line=work.line, value=height)


def shock_under_16(scene: Scene) -> Iterator[Finding]:
    """Find shock plyometrics for athletes under 16."""
    years = scene.number("shock_under_16", "age_years")
    for visit, work in scene.lines:
        if SHOCK in work.tags and work.person.under(years, visit.day) and work.person.entry is not None:
            age = work.person.entry.age_years(visit.day)
            yield scene.breach(
                "shock_under_16",
                "age_years",
                visit=visit,
                line=work.line,
                value=None if age is None else float(age),
            )


def depth_jump_strength(scene: Scene) -> Iterator[Finding]:
    """Find shock plyometrics for men whose squat is below 1.5 times body mass, or unknown."""
    rule, number = "depth_jump_strength", "share_body_mass"
    for visit, work in scene.lines:
        if SHOCK not in work.tags or not _line_is_agreed(scene, work.person, visit):
            continue
        squat, mass = squat_one_rep_max_kg(work.person), work.person.mass_kg
        share = squat / mass if squat and mass else None
        if share is None or share < scene.number(rule, number):
            yield scene.breach(rule, number, visit=visit, line=work.line, value=share)


def _line_is_agreed(scene: Scene, person: Person, visit: Visit) -> bool:
    """No line is agreed for women or youth."""
    youth = person.under(scene.number("shock_under_16", "age_years"), visit.day)
    return person.entry is not None and person.entry.sex == "male" and not youth


def weighted_plyometrics(scene: Scene) -> Iterator[Finding]:
    """Find plyometrics with added mass."""
    for visit, work in scene.lines:
        added = (work.line.added_kg or 0.0) + (work.line.load_kg or 0.0)
        most = scene.number("weighted_plyometrics", "added_kg")
        if work.line.method == "plyometric" and added > most:
            yield scene.breach("weighted_plyometrics", "added_kg", visit=visit, line=work.line, value=added)


def plyometric_block(scene: Scene) -> Iterator[Finding]:
    """Find too few plyometric sessions, too long a block, or none horizontal; once an athlete."""
    for person in scene.people:
        visits = [visit for visit in scene.visits_of[person.ref] if has_jumps(visit)]
        if not visits:
            continue
        few, long = len(visits), _longest_block(person)
        if few < scene.number("plyometric_block", "sessions_low"):
            yield at(scene.breach("plyometric_block", "sessions_low", value=float(few)), person)
        if long > scene.number("plyometric_block", "weeks_high"):
            yield at(scene.breach("plyometric_block", "weeks_high", value=float(long)), person)
        upright = [visit for visit in visits if not _any_horizontal(visit)]
        if upright:
            found = scene.breach(
                "plyometric_block", value=float(len(upright)), unit="sessions", why="vertical"
            )
            yield at(found, person)


def _longest_block(person: Person) -> int:
    """Count the most loading weeks that follow each other."""
    longest = running = 0
    for week in person.programme.weeks:
        running = running + 1 if week.kind == "loading" else 0
        longest = max(longest, running)
    return longest


def _any_horizontal(visit: Visit) -> bool:
    jumps = [work for work in visit.work if work.line.method == "plyometric"]
    unknown = any(work.exercise is None for work in jumps)
    return unknown or any(work.exercise and work.exercise.direction != "vertical" for work in jumps)
