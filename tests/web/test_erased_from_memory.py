"""Who is erased is in nothing that the site keeps in memory: every store of people is on one list."""

from __future__ import annotations

import gc
import pkgutil
import sys
from collections.abc import Callable, Iterator
from functools import lru_cache
from importlib import import_module
from typing import Any

import pytest
from pydantic import BaseModel

import speedloom
from field_entries import client, entry, here, sent
from invented_squads import PROGRAMME, Squads
from speedloom.store.erasing import erase_athlete, erase_squad
from speedloom.store.squads import my_squads
from speedloom.training import kept
from speedloom.training.document import Beside
from speedloom.training.measurement import Trial
from speedloom.web.pages.replan import under_way
from speedloom.web.pages.retest import views as retest
from speedloom.web.pages.today import facts

NOBODYS = {
    "checking": {"pace.share_at", "plates", "recompute.kit", "trials._prior_of"},
    "exchange": {"line_rows", "exercise_names"},
    "planning": {"motion", "plates"},
    "report": {"sheets.paper"},
    "science": {"statistics.best_of"},
    "training": {"exercise", "formula", "norm", "rule", "typical_error"},
    "web": {"pages.api.site.description", "pages.api.views.calls"},
}
"""What is kept of no person: packaged files, arithmetic on bare numbers, the site's own description."""


def of_nobody(name: str) -> bool:
    _, layer, rest = name.split(".", 2)
    return any(f"{rest}.".startswith(f"{one}.") for one in NOBODYS.get(layer, ()))


def kept_functions() -> dict[str, Any]:
    """Give every function of the package whose answers are kept."""
    for module in pkgutil.walk_packages(speedloom.__path__, "speedloom."):
        if not module.name.endswith("__main__") and ".migrations" not in module.name:
            import_module(module.name)
    wrapper = type(lru_cache(lambda: None))
    return {
        f"{one.__module__}.{one.__qualname__}": one
        for name, module in list(sys.modules.items())
        if name.startswith("speedloom.")
        for one in vars(module).values()
        if isinstance(one, wrapper) and one.__module__.startswith("speedloom.")
    }


def on_the_list() -> set[int]:
    return {id(getattr(clear, "__self__", None)) for clear in kept._FORGET}


def test_every_function_that_keeps_answers_about_people_is_on_the_list() -> None:
    found, listed = kept_functions(), on_the_list()
    assert len(found) > 15
    missing = {name for name, one in found.items() if id(one) not in listed and not of_nobody(name)}
    assert missing == set(), "of_people is missing, or it keeps nothing of people and is named in NOBODYS"
    both = {name for name, one in found.items() if id(one) in listed and of_nobody(name)}
    assert both == set()


def test_every_other_store_in_memory_is_on_the_list() -> None:
    kept_functions()
    stores = {
        f"{name}.{at}": one
        for name, module in list(sys.modules.items())
        if name.startswith("speedloom.")
        for at, one in vars(module).items()
        if isinstance(one, Beside)
    }
    assert len(stores) > 5
    listed = on_the_list()
    assert {name for name, one in stores.items() if id(one._known) not in listed} == set()


def looked_at(squads: Squads) -> None:
    coach, home = client(squads.by_role["coach"]), f"/squads/{squads.ours}/"
    sent(coach, squads, [entry(1, squads.by_role["coach"])])
    own = f"{home}programmes/{PROGRAMME}/"
    for page in (home, f"{home}retest/", f"{home}tests/", f"{home}athletes/mila/", own, f"{own}proposals/"):
        assert coach.get(page).status_code == 200, page
    assert coach.get(here(squads)).status_code == 200
    assert coach.get("/").status_code == 200


def full() -> Iterator[str]:
    listed = on_the_list()
    yield from (
        name for name, one in kept_functions().items() if id(one) in listed and one.cache_info().currsize
    )
    yield from (name for name, one in (("facts", facts._KEPT), ("jobs", under_way._JOBS)) if one)


def held(kind: type[object], is_of: Callable[[Any], bool]) -> int:
    gc.collect()
    return sum(1 for one in gc.get_objects() if type(one) is kind and is_of(one))


def erased_athlete(squads: Squads) -> None:
    erase_athlete(squads.by_role["owner"], squads.ours, "mila")


def erased_squad(squads: Squads) -> None:
    (card,) = (one for one in my_squads(squads.by_role["owner"]) if one.key == squads.ours)
    erase_squad(squads.by_role["owner"], squads.ours, name=card.name)


@pytest.mark.parametrize("erase", [erased_athlete, erased_squad])
def test_after_erasing_nothing_of_them_is_kept(
    squads: Squads,
    erase: Callable[[Squads], None],
    django_capture_on_commit_callbacks: Any,  # noqa: ANN401
) -> None:
    looked_at(squads)
    before = set(full())
    assert {"speedloom.web.pages.retest.views._compared", "facts"} <= before
    with django_capture_on_commit_callbacks(execute=True):
        erase(squads)
    assert set(full()) == set()
    assert held(retest._Asked, lambda one: any(row.ref == "mila" for row in one.tests.people)) == 0


def test_the_list_is_not_needed_for_a_document_that_is_gone() -> None:
    """What is beside a document goes with it; where it holds the document itself only the list helps."""
    beside = Beside[BaseModel]()
    row = Trial.model_construct(athlete="mila-in-memory")
    beside.keep(row, row)
    del row
    there = lambda one: getattr(one, "athlete", "") == "mila-in-memory"  # noqa: E731
    assert held(Trial, there) == 1
    kept.forget_people()
    assert held(Trial, there) == 0
