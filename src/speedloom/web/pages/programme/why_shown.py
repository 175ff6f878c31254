"""Where numbers come from, as the page shows it: the number that matters first, each with its sentences."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from speedloom.training.exercise import Catalogue
from speedloom.training.formula import load_formulas
from speedloom.training.programme import Programme, Week
from speedloom.wording.books import books_of
from speedloom.wording.dates import day_month
from speedloom.wording.differences import FIELDS
from speedloom.wording.names import METHOD_NAMES, line_name, word, words_in
from speedloom.wording.units import Units
from speedloom.wording.why import every_step, why_sentences
from speedloom.wording.why_inputs import WhyBook, amount
from speedloom.workflows.explain import Explanation

LABELS: Mapping[str, str | Promise] = {
    "expect.time_s": gettext_lazy("Time to expect"),
    "expect.low": gettext_lazy("Quick end of the band"),
    "expect.high": gettext_lazy("Slow end of the band"),
    "expect.share_vmax": gettext_lazy("Share of top speed reached"),
    "stop_rule.value": gettext_lazy("Stop when slower by"),
    "minutes": gettext_lazy("Minutes"),
    "minutes_available": gettext_lazy("Minutes there are"),
    "specificity": gettext_lazy("How specific, 0 to 1"),
}
FIRST = ("load_kg", "added_kg", "expect.time_s", "distance_m", "sets", "reps", "decrement", "share_1rm")
"""What a coach asks about first; the rest follows as it stands in the programme."""
OF_A_TERMINAL = "(--all tells each)"


@dataclass(frozen=True)
class Answer:
    """One number, and where it comes from."""

    title: str
    value: str
    sentences: tuple[str, ...]


def answers(
    explanations: Sequence[Explanation], programme: Programme, *, every: bool, units: Units
) -> tuple[Answer, ...]:
    """Put explanations into words; `every` tells each step."""
    rulebook, _catalogue = books_of(programme)
    book = WhyBook(programme=programme, rulebook=rulebook, formulas=load_formulas(), units=units)
    tell = every_step if every else why_sentences
    return tuple(
        Answer(
            title=_label(one),
            value=amount(one.value, one.unit, units=units),
            sentences=tuple(_on_a_page(sentence) for sentence in tell(one, book=book)),
        )
        for one in sorted(explanations, key=_rank)
    )


def _rank(one: Explanation) -> int:
    field = _field(one)
    return FIRST.index(field) if field in FIRST else len(FIRST)


def _field(one: Explanation) -> str:
    return one.ref.partition(".")[2]


def _label(one: Explanation) -> str:
    field = _field(one)
    if field.startswith("volumes."):
        _volumes, method, *wanted = field.split(".")
        name = METHOD_NAMES.get(method, word(method))
        return _("%s, asked for") % name if wanted else _("%s, planned") % name
    label = str(LABELS.get(field) or FIELDS.get(field) or word(field))
    return f"{label[:1].upper()}{label[1:]}"


def _on_a_page(sentence: str) -> str:
    return words_in(sentence).replace(OF_A_TERMINAL, _("(“Every step” tells each)"))


def about(programme: Programme, ref: str, *, catalogue: Catalogue) -> str:
    """Name what a line, session or week is."""
    bare = ref.partition(".")[0]
    named = (
        name
        for own in programme.programmes
        for week in own.weeks
        for found, name in _names(own.athlete, week, catalogue)
        if found == bare
    )
    return next(named, ref)


def _names(athlete: str, week: Week, catalogue: Catalogue) -> Iterator[tuple[str, str]]:
    yield f"{athlete}-w{week.number}", _("Week %d") % week.number
    for session in week.sessions:
        yield session.ref, day_month(session.date)
        for line in session.prescriptions:
            yield line.ref, f"{line_name(line, catalogue=catalogue)}, {day_month(session.date)}"
