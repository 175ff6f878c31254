"""Published typical errors of tests, for squads with too few repeats of their own."""

from __future__ import annotations

import json
import tomllib
from functools import cache
from importlib.resources import files
from typing import Annotated, Literal

from pydantic import Field

from speedloom.training.fields import Frozen, Metres, Ref
from speedloom.training.words import Mark

MeasureKind = Literal["split_time", "vmax", "f0", "jump_height", "reactive_strength", "one_rep_max"]


class PublishedError(Frozen):
    """What a publication found that a test scatters by: a share of the value, or an SD in its unit."""

    ref: Ref
    kind: MeasureKind
    up_to_m: Metres | None = None
    share: Annotated[float, Field(gt=0, lt=1)] | None = None
    sd: Annotated[float, Field(gt=0)] | None = None
    source: str
    mark: Mark
    note: str

    def of(self, value: float) -> float:
        """Give the typical error at a value, in its unit."""
        return self.sd if self.sd is not None else (self.share or 0.0) * value


@cache
def load_published_errors() -> tuple[PublishedError, ...]:
    """Read the packaged typical errors, in the file's order."""
    text = files("speedloom.training").joinpath("data", "typical_errors.toml").read_text(encoding="utf-8")
    return tuple(
        PublishedError.model_validate_json(json.dumps({"ref": ref, **body}))
        for ref, body in tomllib.loads(text).items()
    )


def published_error(kind: MeasureKind, *, distance_m: float | None = None) -> PublishedError | None:
    """Find the published error of a measure, or None where none was found."""
    return next(
        (
            one
            for one in load_published_errors()
            if one.kind == kind and (one.up_to_m is None or (distance_m or 0.0) <= one.up_to_m)
        ),
        None,
    )
