"""A programme cut to some athletes names no other: not in what was learned from runs either."""

from __future__ import annotations

from briefs import EXAMPLES, planned
from speedloom.store.programme_part import only


def test_trials_made_of_runs_are_named_for_those_athletes_only() -> None:
    whole = planned(EXAMPLES / "spring_build.toml")
    content = whole.brief.content
    assert content is not None
    refs = tuple(f"{athlete.ref}/2026-02-05/gates/1" for athlete in content.athletes)
    brief = whole.brief.model_copy(update={"content": content.model_copy(update={"learned": refs})})
    part = only(whole.model_copy(update={"brief": brief}), {"ines"}).brief.content
    assert part is not None
    assert part.learned == ("ines/2026-02-05/gates/1",)
