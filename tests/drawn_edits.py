"""Hypothesis draws chains of what a coach does to a programme: edits, locks, undos and plans made again."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from hypothesis import strategies as st

from edited import lines, numbers, sessions, unsound
from invented_briefs import CATALOGUE, RULEBOOK
from replanned import again, refs_broken, whole
from speedloom.errors import EditError
from speedloom.planning.acts import Act, Add, Remove, Swap
from speedloom.planning.edited import Change
from speedloom.planning.holding import LINE_NUMBERS
from speedloom.training.programme import Programme
from speedloom.workflows.copy_week import copy_week
from speedloom.workflows.edit import edit
from speedloom.workflows.lines import additions, rework, substitutes
from speedloom.workflows.restore import restore

Data = dict[str, Any]
FACTORS = {"share_1rm": 0.95, "effort": 0.97}
STEPS = {"load_kg": 2.5, "distance_m": 5.0, "run_in_m": 5.0, "rest_reps_s": 15, "rest_s": 30}


@dataclass(frozen=True)
class Deed:
    """One thing a coach does: which, and two draws that choose where and how."""

    kind: str
    where: int
    how: int


@dataclass
class Story:
    """Revisions one after the other, and every promise that was broken on the way."""

    revisions: list[Programme]
    faults: list[str] = field(default_factory=list)
    made: int = 0

    @property
    def newest(self) -> Programme:
        """The last revision."""
        return self.revisions[-1]


def deeds() -> st.SearchStrategy[list[Deed]]:
    """Draw what is done, one after the other."""
    kinds = st.sampled_from(
        (
            "number",
            "number",
            "day",
            "lock",
            "unlock",
            "undo",
            "replan",
            "swap",
            "add",
            "out",
            "week",
        )
    )
    one = st.builds(Deed, kinds, st.integers(0, 10_000), st.integers(0, 10_000))
    return st.lists(one, min_size=2, max_size=6)


def live(story: Story, deed: Deed) -> None:
    """Do one thing, and look that every promise is kept."""
    old = story.newest
    try:
        new = _done(story, deed)
    except EditError:
        return
    if new is old:
        return
    story.made += 1
    story.revisions.append(new)
    was, now = whole(old), whole(new)
    frozen = (new.revision.frozen_until or date.min).isoformat()
    story.faults += [
        f"{deed}: {one}"
        for one in (*unsound(new), *refs_broken(was, now), *_past(was, now, frozen))
        # An undo brings a line back under its own ref; that it is the very line is looked at there.
        if not (deed.kind == "undo" and one.endswith("a ref is given out again"))
    ]
    if new.revision.number != old.revision.number + 1:
        story.faults.append(f"{deed}: not the next revision")


def _past(was: Data, now: Data, frozen: str) -> list[str]:
    """List sessions that are over and are not what they were."""
    over = [
        {ref: _shown(one) for ref, one in sessions(side).items() if one["date"] <= frozen}
        for side in (was, now)
    ]
    return [] if over[0] == over[1] else ["the past changed"]


def _shown(session: Data) -> Data:
    return numbers(session) | {
        "lines": [numbers(line) | {"ref": line["ref"]} for line in session["prescriptions"]]
    }


def ahead(programme: Programme, since: date) -> Data:
    """Give what is printed of sessions from a day on, by ref."""
    found = sessions(whole(programme)).items()
    return {ref: _shown(one) for ref, one in found if one["date"] >= since.isoformat()}


def _done(story: Story, deed: Deed) -> Programme:
    old = story.newest
    if deed.kind == "undo":
        return _undone(story, deed)
    if deed.kind == "replan":
        content = old.brief.content
        assert content is not None
        first = max(content.start, (old.revision.frozen_until or content.start) + timedelta(days=1))
        since = first + timedelta(days=1 + deed.where % 6)
        lost = (since - timedelta(days=1),) if deed.how % 2 else ()
        return again(old, since=since, lost={"ada": lost})
    if deed.kind in LINES:
        return LINES[deed.kind](old, deed)
    return edit(old, [_change(old, deed)], reason="Drawn", rulebook=RULEBOOK, unlock=True)


def _reworked(old: Programme, act: Act) -> Programme:
    return rework(old, [act], reason="Drawn", rulebook=RULEBOOK, catalogue=CATALOGUE, unlock=True)


def _swapped(old: Programme, deed: Deed) -> Programme:
    ref = _work(old, deed)
    choices = substitutes(old, ref, rulebook=RULEBOOK, catalogue=CATALOGUE)
    return _reworked(old, Swap(ref, _pick(list(choices), deed.how).exercise.ref)) if choices else old


def _added(old: Programme, deed: Deed) -> Programme:
    """Add something that the formulas write, or a line of the coach's own."""
    ref = _pick(list(sessions(whole(old))), deed.where)
    choices = [one for one in additions(old, ref, rulebook=RULEBOOK, catalogue=CATALOGUE) if one.prescribed]
    own = Add(ref, "own_line", "technique", {"sets": 1, "reps": 2}, 5.0, "Drawn")
    known = bool(choices) and deed.how % 3 > 0
    return _reworked(old, Add(ref, _pick(choices, deed.how).exercise.ref) if known else own)


def _taken_out(old: Programme, deed: Deed) -> Programme:
    whole_session = deed.how % 4 == 0
    ref = _pick(list(sessions(whole(old))), deed.where) if whole_session else _work(old, deed)
    return _reworked(old, Remove(ref))


def _copied(old: Programme, deed: Deed) -> Programme:
    numbers_ = [week.number for week in old.programmes[0].weeks]
    one, other = _pick(numbers_, deed.where), _pick(numbers_, deed.how)
    return copy_week(
        old,
        "ada",
        source=one,
        target=other,
        reason="Drawn",
        rulebook=RULEBOOK,
        catalogue=CATALOGUE,
        unlock=True,
    ).programme


LINES = {"swap": _swapped, "add": _added, "out": _taken_out, "week": _copied}


def _work(programme: Programme, deed: Deed) -> str:
    known = lines(whole(programme)).values()
    return str(_pick([one for one in known if one["purpose"] == "work"], deed.where)["ref"])


def _undone(story: Story, deed: Deed) -> Programme:
    """Bring an earlier revision back, and look that its days ahead are what they were."""
    earlier = story.revisions[deed.where % len(story.revisions)]
    new = restore(story.newest, earlier, reason="Drawn", rulebook=RULEBOOK)
    since = (story.newest.revision.frozen_until or date.min) + timedelta(days=1)
    if ahead(new, since) != ahead(earlier, since):
        story.faults.append(f"{deed}: days ahead are not those of revision {earlier.revision.number}")
    return new


def _change(programme: Programme, deed: Deed) -> Change:
    document = whole(programme)
    if deed.kind == "day":
        session = _pick(list(sessions(document).values()), deed.where)
        monday = date.fromisoformat(session["date"])
        monday -= timedelta(days=monday.weekday())
        return Change(session["ref"], "date", (monday + timedelta(days=deed.how % 7)).isoformat())
    if deed.kind != "number" and deed.how % 3 == 0:
        return Change(_pick(list(sessions(document)), deed.where), "", lock=deed.kind == "lock")
    line = _pick([one for one in lines(document).values() if one["purpose"] == "work"], deed.where)
    name = _pick([one for one in LINE_NUMBERS if line[one] is not None], deed.how)
    if deed.kind == "number":
        step = STEPS.get(name, 1) * (1 if deed.how % 2 else -1)
        value = round(line[name] * FACTORS[name], 3) if name in FACTORS else line[name] + step
        return Change(line["ref"], name, value)
    return Change(line["ref"], name, lock=deed.kind == "lock")


def _pick(among: list[Any], draw: int) -> Any:  # noqa: ANN401 - a ref, a line or a session
    return among[draw % len(among)]
