"""Rows that are written once: nobody changes or deletes one; erasing on request is another thing."""

from __future__ import annotations

from typing import Any, NoReturn

from django.db import models

from speedloom.store.refusals import RefusedError


class LastingRows(models.QuerySet[Any]):
    """Rows that are added and read; erased only when a person asks for it."""

    def update(self, **_: Any) -> NoReturn:  # noqa: ANN401 - Django's own signature
        """Refuse."""
        raise RefusedError("Rows that last are never changed; add a new one.")

    def delete(self) -> NoReturn:
        """Refuse."""
        raise RefusedError("Rows that last are not deleted, only erased on request.")

    def erase(self) -> None:
        """Delete for good, because a person asked for it."""
        super().delete()


class Lasting(models.Model):
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
