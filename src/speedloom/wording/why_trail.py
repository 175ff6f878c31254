"""A derivation as a place to walk in: the steps behind a step, and where the number stands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from speedloom.training.programme import AthleteProgramme, Node, Prescription, Session, Week
from speedloom.wording.dates import day_month
from speedloom.wording.names import ROLE_NAMES, WEEK_NAMES, place_name
from speedloom.wording.why_inputs import WhyBook
from speedloom.workflows.explain import Explanation


@dataclass(frozen=True)
class Standing:
    """Where a number stands: the athlete's programme, the week, and the session and line if it has them."""

    own: AthleteProgramme | None = None
    week: Week | None = None
    session: Session | None = None
    line: Prescription | None = None

    def when(self) -> str:
        """Say the week and what kind of day it is, such as `Week 2, heavier day`."""
        if self.week is None:
            return "Here"
        kind = WEEK_NAMES[self.week.kind]
        role = ROLE_NAMES[self.session.role] if self.session else ""
        return ", ".join(filter(None, (f"Week {self.week.number}{f' ({kind})' * bool(kind)}", role)))

    def day(self) -> str:
        """Say the session's day, or the week's Monday."""
        if self.session is not None:
            return day_month(self.session.date)
        return day_month(self.week.monday) if self.week else ""

    def place(self) -> str:
        """Name the place, as in running text."""
        return f"the {place_name(self.session.place)}" if self.session else "the place"


@dataclass(frozen=True)
class Trail:
    """One explanation with the book it is told from."""

    explanation: Explanation
    book: WhyBook
    standing: Standing

    @property
    def field(self) -> str:
        """The number's field, such as `load_kg` or `expect.time_s`."""
        return self.explanation.ref.partition(".")[2]

    @property
    def node(self) -> Node:
        """The number's own step."""
        return self.explanation.node

    def behind(self, node: Node | None, key: str) -> Node | None:
        """Give the step behind one input of a step, or None where the input is no step."""
        return None if node is None else self.book.programme.basis.get(node.inputs.get(key, ""))

    def source(self, node: Node, key: str) -> str:
        """Give the link an input leads to, past a step that only reads it."""
        behind = self.behind(node, key)
        read = behind is not None and behind.by == "given"
        return behind.inputs.get("value", "") if behind is not None and read else node.inputs.get(key, "")

    def at_place(self) -> str:
        """Say where: in a hall or gym, on everything else."""
        content = self.book.programme.brief.content
        session = self.standing.session
        kinds = {place.ref: place.kind for place in content.places} if content and session else {}
        inside = not session or kinds.get(session.place, "hall") in {"hall", "gym"}
        return f"{'in' if inside else 'on'} {self.standing.place()}"

    def lines_with(self, field: str, link: str) -> Iterator[tuple[Week, Session, Prescription]]:
        """Give the athlete's lines one of whose numbers is this step."""
        for week in self.standing.own.weeks if self.standing.own else ():
            for session in week.sessions:
                for line in session.prescriptions:
                    if line.basis.get(field) == link:
                        yield week, session, line


def trail_of(explanation: Explanation, *, book: WhyBook) -> Trail:
    """Find where an explained number stands."""
    ref = explanation.ref.partition(".")[0]
    found = (standing for name, standing in _standings(book) if name == ref)
    return Trail(explanation, book, next(found, Standing()))


def _standings(book: WhyBook) -> Iterator[tuple[str, Standing]]:
    for own in book.programme.programmes:
        for week in own.weeks:
            yield f"{own.athlete}-w{week.number}", Standing(own, week)
            for session in week.sessions:
                yield session.ref, Standing(own, week, session)
                for line in session.prescriptions:
                    yield line.ref, Standing(own, week, session, line)
