"""`speedloom why`: where one number comes from, in a few sentences or step by step."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from typer import Argument, Option

from speedloom.cli._answer import faults_in_words, result, result_json

if TYPE_CHECKING:
    from speedloom.training.programme import Programme
    from speedloom.workflows.explain import Explanation


def why_command(
    programme: Annotated[Path, Argument(help="The programme (JSON).")],
    ref: Annotated[
        str,
        Argument(
            metavar="REF[.FIELD]",
            help="A line, session or week, and one of its numbers: mila-2.load_kg, mila-2.expect.time_s, "
            "mila-1.minutes, mila-w6.specificity. Without a field: all its numbers.",
        ),
    ],
    *,
    every_step: Annotated[
        bool, Option("--all", help="Every step of the derivation, enough to redo it by hand.")
    ] = False,
    as_json: Annotated[bool, Option("--json", help="One JSON value instead of sentences.")] = False,
) -> None:
    """Say where a number comes from: rule, measurement with its uncertainty, formula, rounding, clock."""
    with faults_in_words():
        from speedloom.exchange.documents import read_programme
        from speedloom.workflows.explain import explain, explain_all

        document = read_programme(programme)
        single = "." in ref
        explanations = (explain(document, ref),) if single else explain_all(document, ref)
    if as_json:
        values = [explanation.to_json() for explanation in explanations]
        result_json(values[0] if single else values)
    else:
        result(
            _text(document, explanations, every_step=every_step)
            or f"{ref} holds no number with a derivation."
        )


def _text(programme: Programme, explanations: tuple[Explanation, ...], *, every_step: bool) -> str:
    from speedloom.training.formula import load_formulas
    from speedloom.training.rule import load_rulebook
    from speedloom.wording.why import every_step_texts, why_texts
    from speedloom.wording.why_inputs import WhyBook

    content = programme.brief.content
    rulebook = load_rulebook().with_changes(content.rules if content else ())
    book = WhyBook(programme=programme, rulebook=rulebook, formulas=load_formulas())
    return (every_step_texts if every_step else why_texts)(explanations, book=book)
