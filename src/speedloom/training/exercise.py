"""The exercise catalogue and the warm-ups, read from the packaged TOML."""

from __future__ import annotations

import json
import tomllib
from functools import cache
from importlib.resources import files
from typing import Annotated, Literal

from pydantic import Field

from speedloom.training.document import Beside
from speedloom.training.fields import Frozen, Metres, Minutes, Ref, Share, Whole
from speedloom.training.words import KitKind, Level, LineMethod, PlaceKind

LoadKind = Literal[
    "none",
    "barbell",
    "trap_bar",
    "dumbbell",
    "dumbbells",
    "kettlebell",
    "sled",
    "vest",
    "medicine_ball",
    "band",
    "machine",
    "body",
]


class Exercise(Frozen):
    """One exercise of the catalogue."""

    ref: Ref
    name: str
    method: LineMethod
    direction: Literal["horizontal", "vertical", "mixed", "lateral"]
    contact_class: Literal["", "long", "medium", "short", "shock"] = ""
    stage: Literal["", "general", "middle", "specific"] = ""
    slot: str
    load_kind: LoadKind = "none"
    kit: tuple[KitKind, ...] = ()
    place: tuple[PlaceKind, ...]
    sides: Literal["both", "each"] = "both"
    tags: tuple[str, ...] = ()
    contacts_per_rep: Whole = 0
    level: Level = "novice"
    minimum_age_years: Whole = 0
    coach_only: bool = False
    prerequisites: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    substitutes: tuple[Ref, ...] = ()
    one_rep_max_of: str = ""
    cue: str = ""


class WarmUpStep(Frozen):
    """One part of a warm-up; done by all levels, or only by those named."""

    what: str
    minutes: Annotated[float, Field(gt=0)]
    method: LineMethod = "technique"
    cue: str = ""
    levels: tuple[Level, ...] = ()


class BuildUps(Frozen):
    """Runs of rising effort that end a warm-up."""

    shares: tuple[Share, ...]
    distance_m: Metres
    rest_s: Whole
    minutes: Annotated[float, Field(ge=0)]


class WarmUp(Frozen):
    """A warm-up: its minutes by level, its steps, and its build-up runs."""

    ref: Ref
    name: str
    place: tuple[PlaceKind, ...]
    mark: str
    minutes: dict[Level, Minutes]
    steps: tuple[WarmUpStep, ...]
    build_ups: BuildUps | None = None


class Catalogue(Frozen):
    """All exercises and warm-ups, the sentences behind their tags, and a coach's titles of own lines."""

    exercises: tuple[Exercise, ...]
    warm_ups: tuple[WarmUp, ...]
    tags: dict[str, str]
    cautions: dict[str, str]
    prerequisites: dict[str, str]
    own_titles: dict[str, str] = {}

    def get(self, ref: str) -> Exercise | None:
        """Find an exercise by its reference, or None."""
        return _index(self).get(ref)

    def in_slot(self, slot: str) -> tuple[Exercise, ...]:
        """Give the exercises for one place in a session, in the file's order."""
        return tuple(exercise for exercise in self.exercises if exercise.slot == slot)

    def warm_up(self, ref: str) -> WarmUp:
        """Find a warm-up by its reference."""
        return next(warm_up for warm_up in self.warm_ups if warm_up.ref == ref)


_INDEXES = Beside[dict[str, Exercise]]()


def _index(catalogue: Catalogue) -> dict[str, Exercise]:
    known = _INDEXES.get(catalogue)
    if known is None:
        known = _INDEXES.keep(catalogue, {exercise.ref: exercise for exercise in catalogue.exercises})
    return known


def _table(name: str) -> dict[str, object]:
    return tomllib.loads(files("speedloom.training").joinpath("data", name).read_text(encoding="utf-8"))


@cache
def load_catalogue() -> Catalogue:
    """Read the packaged catalogue."""
    exercises = _table("exercises.toml")
    glossary = {key: exercises.pop(f"_{key}") for key in ("tags", "cautions", "prerequisites")}
    warm_ups = {key: value for key, value in _table("warm_ups.toml").items() if not key.startswith("_")}
    document = {
        "exercises": [{"ref": ref, **body} for ref, body in exercises.items() if isinstance(body, dict)],
        "warm_ups": [{"ref": ref, **body} for ref, body in warm_ups.items() if isinstance(body, dict)],
        **glossary,
    }
    return Catalogue.model_validate_json(json.dumps(document))
