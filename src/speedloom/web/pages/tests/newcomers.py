"""Names in a table: who of the squad is meant, and who is new to it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from typing import Any
from zlib import crc32

from django.http import QueryDict
from pydantic import ValidationError

from speedloom.store.cards import AthleteCard
from speedloom.training.athlete import Athlete
from speedloom.training.measurement import Trial
from speedloom.web.pages.squad.person_form import PersonForm, first_values, new_ref

NEW, LEFT_OUT = "new", "out"
_BODY = ("sex", "born", "mass_kg", "height_m")
_NEAR = 0.8


@dataclass(frozen=True)
class Named:
    """One name of a table and who is meant by it."""

    name: str
    ref: str
    field: str = ""
    choice: str = ""
    near: tuple[AthleteCard, ...] = ()
    form: PersonForm | None = None

    @property
    def strange(self) -> bool:
        """Whether the squad has nobody of this very name."""
        return bool(self.field)

    @property
    def is_new(self) -> bool:
        """Whether an athlete is made of this name."""
        return self.strange and self.choice == NEW

    @property
    def open(self) -> bool:
        """Whether it was not said yet who is meant."""
        return self.strange and not self.choice


def who_is_meant(
    names: Iterable[str], cards: Sequence[AthleteCard], data: QueryDict | Mapping[str, Any]
) -> tuple[Named, ...]:
    """Find everybody; a name the squad does not have is new, unless it looks like one that it has."""
    known = {_plain(text): card.ref for card in cards for text in (card.ref, card.name)}
    taken = {card.ref for card in cards}
    found = []
    for name in names:
        ref = known.get(_plain(name))
        if ref is not None:
            found.append(Named(name, ref))
            continue
        one = _strange(name, f"who{crc32(_plain(name).encode()):08x}", cards, data)
        if one.is_new:
            one = replace(one, ref=new_ref(name, taken))
            taken.add(one.ref)
        found.append(one)
    return tuple(found)


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())


def _strange(
    name: str, field: str, cards: Sequence[AthleteCard], data: QueryDict | Mapping[str, Any]
) -> Named:
    names = {_plain(card.name): card for card in cards}
    near = [names[text] for text in get_close_matches(_plain(name), list(names), n=3, cutoff=_NEAR)]
    near += [card for text, card in names.items() if _plain(name) in text.split() and card not in near]
    choice = str(data.get(field, "" if near else NEW))
    refs = {card.ref for card in cards}
    if choice not in {NEW, LEFT_OUT, *refs}:
        choice = ""
    sent = f"{field}-name" in data
    form = PersonForm(data if sent else None, prefix=field, initial={"name": name})
    return Named(name, choice if choice in refs else "", field, choice, tuple(near), form)


def people_made(those: Iterable[Named], trials: Sequence[Trial]) -> Iterator[Athlete]:
    """Give the new athletes with what was typed and what their rows say; a form with faults gives none."""
    for one in those:
        if not one.is_new or one.form is None:
            continue
        known = {
            name: value
            for trial in trials
            if trial.athlete == one.ref
            for name in _BODY
            if (value := getattr(trial, name)) is not None
        }
        if not one.form.is_bound:
            yield Athlete.model_validate({**known, "ref": one.ref, "name": one.name})
        elif one.form.is_valid():
            yield from _made(one.form, one.ref, known)


def with_known(those: Iterable[Named], people: Iterable[Athlete]) -> Iterator[Named]:
    """Show in the form of a new athlete what the rows say already, before anything is typed into it."""
    made = {one.ref: one for one in people}
    for one in those:
        athlete = made.get(one.ref) if one.is_new else None
        if athlete is None or one.form is None or one.form.is_bound:
            yield one
        else:
            yield replace(one, form=PersonForm(prefix=one.field, initial=first_values(athlete)))


def _made(form: PersonForm, ref: str, known: Mapping[str, object]) -> Iterator[Athlete]:
    try:
        yield form.person(ref, known=known)
    except ValidationError as error:
        for fault in error.errors():
            form.add_error(None, f"{'.'.join(map(str, fault['loc']))}: {fault['msg']}")
