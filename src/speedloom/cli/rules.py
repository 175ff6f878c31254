"""`speedloom rules`: the rulebook with its sources."""

from __future__ import annotations

from typing import Annotated

from typer import Option

from speedloom.cli._answer import result


def rules_command(
    *,
    toml: Annotated[
        bool, Option("--toml", help="A template in TOML for your own numbers in a brief.")
    ] = False,
) -> None:
    """Print every rule and default dose: numbers, units, weights, sources and how well they are known."""
    from speedloom.training.rule import load_rulebook
    from speedloom.wording.rules import rules_text, rules_toml

    rulebook = load_rulebook()
    result(rules_toml(rulebook) if toml else rules_text(rulebook))
