"""Exercises as people write them: by their name or by their ref, in any case."""

from __future__ import annotations

from functools import cache

from speedloom.exchange.fault import nearest
from speedloom.training.exercise import load_catalogue


@cache
def _refs() -> dict[str, str]:
    named = {exercise.name.lower(): exercise.ref for exercise in load_catalogue().exercises}
    return {**named, **{exercise.ref: exercise.ref for exercise in load_catalogue().exercises}}


def exercise_ref(text: str) -> str | None:
    """Give the ref of the catalogue's exercise with this name or ref, or None.

    >>> exercise_ref("Back squat"), exercise_ref("back_squat"), exercise_ref("squat")
    ('back_squat', 'back_squat', None)
    """
    return _refs().get(" ".join(text.split()).lower())


def nearest_exercise(text: str) -> str | None:
    """Give the name of the exercise that is written most like this one, or None.

    >>> nearest_exercise("Bak squat")
    'Back squat'
    """
    near = nearest(" ".join(text.split()).lower(), _refs())
    found = load_catalogue().get(_refs()[near]) if near else None
    return found.name if found else None
