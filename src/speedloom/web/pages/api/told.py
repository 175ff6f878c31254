"""Findings and derivations as the API tells them: values, and the sentence that pages and papers use."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from speedloom.checking.finding import Finding
from speedloom.errors import EditError
from speedloom.store.programme_part import only
from speedloom.training.formula import load_formulas
from speedloom.training.programme import Programme
from speedloom.web.pages.api.shapes import Checked, FindingSaid, StepTold, WhyTold
from speedloom.wording.books import books_of
from speedloom.wording.findings import FindingsBook, finding_sentence
from speedloom.wording.why import why_texts
from speedloom.wording.why_inputs import WhyBook
from speedloom.workflows.check_programme import check_programme
from speedloom.workflows.explain import explain, explain_all


def check_told(programme: Programme) -> Checked:
    """Check a programme against its own rulebook."""
    rulebook, catalogue = books_of(programme)
    found = check_programme(programme, brief=None, rulebook=rulebook, catalogue=catalogue)
    book = FindingsBook(rulebook=rulebook, catalogue=catalogue, programme=programme)
    return Checked(
        hard=len(found.hard()),
        warnings=len(found.warnings()),
        advice=len(found.advice()),
        findings=tuple(_said(one, book) for one in found),
    )


def new_findings(before: Programme, made: Programme, *, refs: set[str]) -> tuple[FindingSaid, ...]:
    """Give what the check finds after a change that it did not find before, about those it was made for."""
    athletes = {own.athlete for own in made.programmes if any(_is_of(ref, own.athlete) for ref in refs)}
    known = {_about(one) for one in check_told(only(before, athletes)).findings}
    return tuple(one for one in check_told(only(made, athletes)).findings if _about(one) not in known)


def _is_of(ref: str, athlete: str) -> bool:
    return ref.rpartition("-")[0] == athlete


def _about(one: FindingSaid) -> tuple[object, ...]:
    return (one.rule, one.athlete, one.week, one.session, one.line)


def only_soft(findings: Iterable[FindingSaid]) -> tuple[FindingSaid, ...]:
    """Let findings pass that a coach may keep.

    Raises:
        EditError: what a hard rule does not allow, a line each.
    """
    those = tuple(findings)
    hard = [one.sentence for one in those if one.weight == "hard"]
    if hard:
        raise EditError("\n".join([*hard, "A hard rule does not allow this; nothing was saved."]))
    return those


def _said(one: Finding, book: FindingsBook) -> FindingSaid:
    return FindingSaid(
        rule=one.rule,
        weight=one.weight,
        athlete=one.athlete,
        week=one.week,
        session=one.session,
        line=one.line,
        sentence=finding_sentence(one, book=book),
    )


def why_told(programme: Programme, ref: str) -> Iterator[WhyTold]:
    """Explain one number, or every number of a line, session or week.

    Raises:
        UnknownNumberError: no such ref, or no derivation of such a field.
    """
    explanations = (explain(programme, ref),) if "." in ref else explain_all(programme, ref)
    rulebook, _catalogue = books_of(programme)
    book = WhyBook(programme=programme, rulebook=rulebook, formulas=load_formulas())
    for one in explanations:
        steps = tuple(StepTold(id=step.id, node=step.node) for step in one.steps)
        text = why_texts((one,), book=book).strip()
        yield WhyTold(ref=one.ref, value=one.value, unit=one.unit, text=text, steps=steps)
