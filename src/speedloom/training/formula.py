"""The formulas that a basis node names, read from the packaged TOML: in words and symbols, not as code."""

from __future__ import annotations

import json
import tomllib
from functools import cache
from importlib.resources import files

from speedloom.training.fields import Frozen
from speedloom.training.words import Mark


class Formula(Frozen):
    """One formula: what it says, its equation, its arguments with their units, its source and mark."""

    id: str
    says: str
    equation: str
    arguments: dict[str, str]
    source: str | None = None
    mark: Mark


@cache
def load_formulas() -> dict[str, Formula]:
    """Read the packaged formulas, by id."""
    text = files("speedloom.training").joinpath("data", "formulas.toml").read_text(encoding="utf-8")
    entries = tomllib.loads(text)
    return {
        name: Formula.model_validate_json(json.dumps({"id": name, **body})) for name, body in entries.items()
    }
