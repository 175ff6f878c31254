"""The box for a surface: written as people read it, kept as the data has it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms

from speedloom.wording.names import known_word, word


class SurfaceField(forms.CharField):
    """A surface in the coach's own words; one the squad has already keeps its spelling in the data."""

    known: Iterable[str | None] = ()

    def prepare_value(self, value: Any) -> Any:  # noqa: ANN401 - Django's own
        """Write it in words."""
        return word(value) if isinstance(value, str) else value

    def clean(self, value: Any) -> str:  # noqa: ANN401 - Django's own
        """Read it; the same words mean the same surface."""
        return known_word(str(super().clean(value)), self.known)
