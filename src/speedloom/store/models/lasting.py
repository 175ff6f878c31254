"""What rows have in common: texts every database keeps; some are written once, and only erased on request."""

from __future__ import annotations

from typing import Any, NoReturn

from django.db import models

from speedloom.store.refusals import RefusedError

NUL = "\0"
"""A sign no keyboard writes: SQLite keeps it, PostgreSQL does not, so nobody does."""


class Written(models.Model):
    """A row whose texts hold no sign NUL, wherever they came from."""

    class Meta:
        abstract = True

    def save(self, **kwargs: Any) -> None:  # noqa: ANN401 - Django's own signature
        """Keep the row."""
        self.refuse_nul()
        super().save(**kwargs)

    def refuse_nul(self) -> None:
        """Let texts pass that every database keeps.

        Raises:
            RefusedError: a text with the sign NUL in it.
        """
        texts = {field.attname: getattr(self, field.attname) for field in self._meta.concrete_fields}
        wrong = sorted(name for name, text in texts.items() if isinstance(text, str) and NUL in text)
        if wrong:
            raise RefusedError(f"Expected text without the sign NUL in {', '.join(wrong)}; leave it out.")


class LastingRows(models.QuerySet[Any]):
    """Rows that are added and read; erased only when a person asks for it."""

    def update(self, **_: Any) -> NoReturn:  # noqa: ANN401 - Django's own signature
        """Refuse."""
        raise RefusedError("Rows that last are never changed; add a new one.")

    def delete(self) -> NoReturn:
        """Refuse."""
        raise RefusedError("Rows that last are not deleted, only erased on request.")

    def rewrite(self, **fields: Any) -> None:  # noqa: ANN401 - Django's own signature
        """Put other texts in place, because a person asked to be erased out of them."""
        super().update(**fields)

    def erase(self) -> None:
        """Delete for good, because a person asked for it."""
        super().delete()


class Lasting(Written):
    """A row that is written once."""

    objects = LastingRows.as_manager()

    class Meta:
        abstract = True

    def save(self, **kwargs: Any) -> None:  # noqa: ANN401 - Django's own signature
        """Add the row; refuse to change one that is there."""
        if self.pk is not None:
            raise RefusedError("Rows that last are never changed; add a new one.")
        super().save(**kwargs)

    def delete(self, **_: Any) -> NoReturn:  # type: ignore[override]  # noqa: ANN401 - Django's own signature
        """Refuse."""
        raise RefusedError("Rows that last are not deleted, only erased on request.")
