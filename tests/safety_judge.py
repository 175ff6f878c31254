"""A third judge of safety: reads a programme's JSON and nothing else, by its own arithmetic.

It imports neither the planner nor the check nor the vocabulary: only the document, the brief inside it, and
the numbers written here. Days that a revision froze are context and are not judged; of these, days that were
lost are no training. Numbers: in season and for youths (common practice) and rule P4 (Allerheiligen &
Rogers 1995, read). It is stricter than the check where a limit can be read in two ways.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import Any

Data = dict[str, Any]
YOUTH_YEARS = 16  # rule P4, read
YOUTH_SHARE, YOUTH_RIR, YOUTH_DECREMENT, YOUTH_ZONE_M = 0.80, 3, 0.25, 10.0  # common practice
LADDER = (0.60, 0.70, 0.80, 0.90, 0.95, 1.00)  # common practice
FIRST_BACK_EFFORT, BREAK_DAYS = 0.90, 14  # common practice
DAY_BEFORE_RUNS, DAY_BEFORE_M, DAY_BEFORE_CONTACTS, DAY_BEFORE_SHARE = 3, 20.0, 20, 0.80  # common practice
TOP_UP_MINUTES, TOP_UP_RUNS = 30, 4  # common practice
FAST = 0.90
SPRINTS = ("unloaded_sprint", "resisted_sprint")
LIFTS = ("power", "maximal_strength", "general_strength")
SUMS = ("contacts", "minutes", "sets")
EPS = 1e-6


def judge(programme: Data) -> list[str]:
    """List everything a programme does that it must never do, in words; none where it is safe."""
    brief = programme["brief"]["content"]
    people = {one["ref"]: one for one in brief["athletes"]}
    frozen = programme["revision"]["frozen_until"]
    over = _day(frozen) if frozen else date.min
    faults: list[str] = []
    for own in programme["programmes"]:
        person = people.get(own["athlete"])
        if person is not None:
            case = _Case(brief, person, own, over=over)
            faults += [f"{own['athlete']} {fault}" for fault in case.faults()]
        elif any(_day(session["date"]) > over for week in own["weeks"] for session in week["sessions"]):
            faults.append(f"{own['athlete']} is planned and not in the brief")
    return faults


class _Case:
    """One athlete's sessions, in order, with the brief they were made from."""

    def __init__(self, brief: Data, person: Data, own: Data, *, over: date) -> None:
        self.brief, self.person, self.over = brief, person, over
        self.sessions = sorted(
            (session for week in own["weeks"] for session in week["sessions"] if not self.is_lost(session)),
            key=lambda session: (session["date"], session["start"]),
        )
        self.places = {place["ref"]: place for place in brief["places"]}
        self.kit = {kit["ref"]: kit for kit in brief["kit"]}
        self.slots = {slot["ref"]: slot for slot in brief["slots"]}
        self.exercises = {exercise["ref"]: exercise for exercise in brief["catalogue"]}
        self.own_lines = {line["exercise"] for line in brief["own_lines"]}
        self.matches = sorted({*_matches(brief), *(_day(peak["date"]) for peak in brief["goal"]["peaks"])})

    def faults(self) -> Iterator[str]:
        answers = self.person["screening"]
        ahead = [session for session in self.sessions if not self.is_over(session)]
        if ahead and answers and (answers["pain"] or not answers["cleared"]):
            yield "is planned without clearance"
        for session in ahead:
            for fault in self.session_faults(session):
                yield f"{session['date']} {session['place']}: {fault}"
        yield from self.overlaps()
        yield from self.too_soon()

    def is_over(self, session: Data) -> bool:
        return _day(session["date"]) <= self.over

    def is_lost(self, session: Data) -> bool:
        today = _day(session["date"])
        return self.is_over(session) and any(_covers(away, today) for away in self.person["away"])

    def session_faults(self, session: Data) -> Iterator[str]:
        yield from self.calendar(session)
        yield from self.near_matches(session)
        yield from self.room(session)
        yield from self.limits(session)
        if self.is_youth(session):
            for line in session["prescriptions"]:
                yield from self.youth(line)

    def work(self, session: Data) -> list[Data]:
        """Give the lines that are neither warm-up nor build-up."""
        return [line for line in session["prescriptions"] if line["purpose"] == "work"]

    def is_field(self, session: Data) -> bool:
        place = self.places.get(session["place"])  # a place where training was may be gone
        return bool(place is None or place["kind"] != "gym")

    def is_youth(self, session: Data) -> bool:
        if self.person["born"] is None:
            return False
        born, today = _day(self.person["born"]), _day(session["date"])
        return today.year - born.year - ((today.month, today.day) < (born.month, born.day)) < YOUTH_YEARS

    # ------------------------------------------------------------------ when

    def calendar(self, session: Data) -> Iterator[str]:
        today, slot = _day(session["date"]), self.slots[session["slot"]]
        if not _day(self.brief["start"]) <= today <= _day(self.brief["end"]):
            yield "outside the brief's dates"
        if any(_covers(away, today) for away in self.person["away"]):
            yield "trains while away"
        closing = [event for event in self.brief["events"] if _covers(event, today) and _closes(event)]
        if closing:
            yield f"trains on a day of {closing[0]['kind']}"
        if (slot["from"] and today < _day(slot["from"])) or (slot["until"] and today > _day(slot["until"])):
            yield "outside the slot's own dates"
        if not slot["open"] and today.strftime("%A").lower() != slot["day"]:
            yield "on another weekday than its slot"

    def near_matches(self, session: Data) -> Iterator[str]:
        today = _day(session["date"])
        if today in self.matches:
            yield "trains on a match day"
        if today - timedelta(days=1) in self.matches:
            yield from self.day_after(session)
        if today + timedelta(days=1) in self.matches:
            yield from self.day_before(session)

    def day_after(self, session: Data) -> Iterator[str]:
        """Nothing the day after; who played less than half an hour gets a few top-speed runs."""
        played = self.person["match_minutes"]
        runs = [line for line in self.work(session) if line["run"] == "top_speed"]
        few = sum(line["sets"] * line["reps"] for line in runs) <= TOP_UP_RUNS
        allowed = ("unloaded_sprint", "hamstring_groin_calf")
        others = [
            line for line in self.work(session) if line["method"] not in allowed and not self.is_own(line)
        ]
        if played is None or played >= TOP_UP_MINUTES or not few or others or not self.is_field(session):
            yield "trains the day after a match"

    def day_before(self, session: Data) -> Iterator[str]:
        runs = [line for line in self.work(session) if line["method"] in SPRINTS and not self.is_own(line)]
        fast = sum(line["sets"] * line["reps"] for line in runs if _effort(line) >= FAST)
        if not self.is_field(session):
            yield "lifts the day before a match"
        if fast > DAY_BEFORE_RUNS or any(_metres(line) > DAY_BEFORE_M for line in runs):
            yield "runs too much the day before a match"
        if any(line["method"] == "resisted_sprint" for line in runs):
            yield "pulls a sled the day before a match"
        if sum(self.contacts(line, None) for line in self.work(session)) > DAY_BEFORE_CONTACTS:
            yield "jumps too much the day before a match"
        if any((line["share_1rm"] or 0.0) > DAY_BEFORE_SHARE for line in self.work(session)):
            yield "lifts heavy the day before a match"

    def overlaps(self) -> Iterator[str]:
        for first, second in zip(self.sessions, self.sessions[1:], strict=False):
            ends = _begin(first) + timedelta(minutes=first["minutes"])
            if ends > _begin(second) and not self.is_over(second):
                yield f"{second['date']}: two sessions at once"

    def too_soon(self) -> Iterator[str]:
        """The first week back after a break holds no run faster than 90 %."""
        last = None if self.person["weeks_off"] * 7 < BREAK_DAYS else date.min
        back: date | None = None
        for session in self.sessions:
            today = _day(session["date"])
            monday = today - timedelta(days=today.weekday())
            if last is not None and monday - last > timedelta(days=BREAK_DAYS):
                back = monday
            runs = [line for line in self.work(session) if line["method"] == "unloaded_sprint"]
            flat_out = any(_effort(line) > FIRST_BACK_EFFORT + EPS for line in runs if not self.is_own(line))
            if back == monday and flat_out and not self.is_over(session):
                yield f"{session['date']}: flat out in the first week back"
            last = today

    # ------------------------------------------------------------------ where and with what

    def room(self, session: Data) -> Iterator[str]:
        place = self.places[session["place"]]
        if session["minutes"] > session["minutes_available"] + EPS:
            yield "longer than its slot"
        if session["minutes_available"] > self.slots[session["slot"]]["minutes"] + EPS:
            yield "more minutes than the slot has"
        if sum(line["minutes"] for line in session["prescriptions"]) > session["minutes"] + EPS:
            yield "its lines take longer than it says"
        for line in session["prescriptions"]:
            needed = _metres(line) + (place["run_out_m"] or 0.0)
            if place["straight_m"] and not self.is_own(line) and needed > place["straight_m"] + EPS:
                yield f"{line['exercise']}: {needed} m on a straight of {place['straight_m']} m"
            yield from self.load(line, place)

    def load(self, line: Data, place: Data) -> Iterator[str]:
        if not line["load_kg"] or self.is_own(line):
            return
        kit = self.kit.get(line["kit"] or "")
        if kit is None:
            yield f"{line['exercise']}: {line['load_kg']} kg on no kit of the brief"
        elif kit["place"] != place["ref"]:
            yield f"{line['exercise']}: kit that stands elsewhere"
        elif not any(abs(mass - line["load_kg"]) < 0.006 for mass in _masses(kit)):
            yield f"{line['exercise']}: no plates make {line['load_kg']} kg"

    # ------------------------------------------------------------------ who

    def youth(self, line: Data) -> Iterator[str]:
        if self.is_own(line):
            return
        known = self.exercises.get(line["exercise"], {})
        lift = line["method"] in LIFTS
        forbidden = {
            "shock jumps": "shock" in known.get("tags", ()) or known.get("contact_class") == "shock",
            "above 80 %": (line["share_1rm"] or 0.0) > YOUTH_SHARE + EPS,
            "fewer than three in reserve": lift and line["rir"] is not None and line["rir"] < YOUTH_RIR,
            "loaded jumps": line["method"] == "power" and bool(line["load_kg"]),
            "worn mass": bool(line["added_kg"]),
            "a sled slower than 25 %": (line["decrement"] or 0.0) > YOUTH_DECREMENT + EPS,
            "a zone longer than 10 m": line["run"] == "top_speed" and line["distance_m"] > YOUTH_ZONE_M,
            "a single repetition": line["method"] == "maximal_strength" and line["reps"] == 1,
        }
        yield from (f"{line['exercise']}: {what} under 16" for what, found in forbidden.items() if found)

    def limits(self, session: Data) -> Iterator[str]:
        today = _day(session["date"])
        for restriction in self.person["restrictions"]:
            until = _day(restriction["until"]) if restriction["until"] else None
            for limit in restriction["limits"]:
                if _day(restriction["from"]) <= today and (until is None or today <= until):
                    yield from self.exceeded(session, limit)
                elif until is not None and until < today and limit["what"] == "share_vmax":
                    yield from self.ladder(session, limit, until)

    def exceeded(self, session: Data, limit: Data) -> Iterator[str]:
        what, most = limit["what"], limit["at_most"]
        meant = [line for line in session["prescriptions"] if self.meant(line, limit)]
        narrowed = any(limit[name] is not None for name in ("method", "exercise", "tag", "side"))
        if what == "minutes" and not narrowed:
            total = session["minutes"]
        elif what in SUMS:
            total = sum(self.counted(line, limit) for line in meant if line["purpose"] == "work")
        else:
            total = max((self.value(line, what) for line in meant), default=0.0)
        if total > most + EPS:
            yield f"{total} of {what}, allowed {most}"

    def ladder(self, session: Data, limit: Data, until: date) -> Iterator[str]:
        """Speed comes back by one step a field session."""
        done = [one for one in self.sessions if self.is_field(one) and _begin(one) < _begin(session)]
        since = sum(1 for one in done if _day(one["date"]) > until)
        steps = [step for step in LADDER if step > limit["at_most"]]
        if since < len(steps) - 1:
            yield from self.exceeded(session, limit | {"at_most": steps[since]})

    def meant(self, line: Data, limit: Data) -> bool:
        tags = self.exercises.get(line["exercise"], {}).get("tags", ())
        return (
            limit["method"] in {None, line["method"]}
            and limit["exercise"] in {None, line["exercise"]}
            and (limit["tag"] is None or limit["tag"] in tags)
            and (limit["side"] is None or line["side"] in {"both", "each", limit["side"]})
        )

    def value(self, line: Data, what: str) -> float:
        if what == "share_vmax":
            return _effort(line) * (1.0 - (line["decrement"] or 0.0)) if line["method"] in SPRINTS else 0.0
        if what == "distance_m":
            return _metres(line) if line["method"] in SPRINTS else 0.0
        known = self.exercises.get(line["exercise"], {})
        loaded = known.get("load_kind", "none") not in {"none", "body", "medicine_ball", "band", "sled"}
        if what == "load_kg":
            unknown = loaded and line["load_kg"] is None and line["method"] != "power"
            return float("inf") if unknown else (line["load_kg"] or 0.0) + (line["added_kg"] or 0.0)
        unknown = loaded and line["share_1rm"] is None and line["method"] != "power"
        return float("inf") if unknown else line["share_1rm"] or 0.0

    def counted(self, line: Data, limit: Data) -> float:
        if limit["what"] == "minutes":
            return float(line["minutes"])
        if limit["what"] == "sets":
            return float(line["sets"])
        return self.contacts(line, limit["side"])

    def contacts(self, line: Data, side: str | None) -> float:
        known = self.exercises.get(line["exercise"], {})
        each = 2 if line["side"] == "each" and side is None else 1
        counted = line["sets"] * line["reps"] * known.get("contacts_per_rep", 0) * each
        written = (line["contacts"] or 0) / (2 if line["side"] == "each" and side else 1)
        return max(float(counted), float(written))

    def is_own(self, line: Data) -> bool:
        """Whether it is a line of the coach's own, which only restrictions and the clock may touch."""
        return line["exercise"] in self.own_lines


def _day(text: str) -> date:
    return date.fromisoformat(text)


def _begin(session: Data) -> datetime:
    return datetime.combine(_day(session["date"]), time.fromisoformat(session["start"]))


def _covers(span: Data, day: date) -> bool:
    return _day(span["date"]) <= day <= _day(span["until"] or span["date"])


def _closes(event: Data) -> bool:
    if event["training"] is not None:
        return bool(event["training"] == "none")
    return event["kind"] in {"match", "competition", "travel"}


def _matches(brief: Data) -> Iterator[date]:
    for event in brief["events"]:
        if event["kind"] in {"match", "competition"}:
            first, last = _day(event["date"]), _day(event["until"] or event["date"])
            yield from (first + timedelta(days=more) for more in range((last - first).days + 1))


def _effort(line: Data) -> float:
    """Share of the best; a run without one is flat out."""
    return 1.0 if line["effort"] is None else float(line["effort"])


def _metres(line: Data) -> float:
    return (line["distance_m"] or 0.0) + (line["run_in_m"] or 0.0)


def _masses(kit: Data) -> set[float]:
    """Give every mass that kit can make, plate by plate."""
    if kit["weights_kg"]:
        return {mass for mass, _ in kit["weights_kg"]}
    at_once = 2 if kit["kind"] in {"barbell", "trap_bar"} else 1
    made = {kit["empty_kg"] or 0.0}
    for mass, pieces in kit["plates_kg"]:
        for _ in range(pieces // at_once):
            made |= {round(one + mass * at_once, 3) for one in made}
    return made
