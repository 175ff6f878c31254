"""A line swapped, added or taken out, and a session taken out; the check answers before anything is saved."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from django.http import Http404, HttpResponse
from django.utils.translation import gettext as _

from speedloom.errors import EditError
from speedloom.planning.acts import Act, Add, Remove, Swap
from speedloom.store.cards import ProgrammeCard, SquadCard
from speedloom.training.exercise import load_catalogue
from speedloom.training.programme import Programme
from speedloom.training.rule import load_rulebook
from speedloom.training.words import LineMethod
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.changes import Box, number_box, place_of, title_of, typed_value
from speedloom.web.pages.programme.changes_saved import Desk, Place, find, opened
from speedloom.web.pages.programme.shown import units_of
from speedloom.wording.names import athlete_name, word
from speedloom.wording.units import Units
from speedloom.workflows.group import same_refs
from speedloom.workflows.lines import OWN_LINE, Choice, additions, rework, rework_group, substitutes

BOXES = ("sets", "reps", "distance_m", "load_kg", "rir", "effort", "hold_s", "rest_reps_s", "rest_s")
"""Numbers that can be written for a new line."""
OWN: Mapping[str, LineMethod] = {
    "technique": "technique",
    "change_of_direction": "change_of_direction",
    "isometric": "isometric",
    "other": "other",
}
"""Kinds of work that a line of the coach's own can be."""


@dataclass(frozen=True)
class Option:
    """One exercise to choose."""

    ref: str
    name: str
    own_numbers: bool
    chosen: bool


@dataclass(frozen=True)
class Kind:
    """Exercises of one kind of work."""

    name: str
    options: tuple[Option, ...]


def _option(choice: Choice, *, chosen: str) -> Option:
    one = choice.exercise
    return Option(one.ref, one.name, not choice.prescribed, one.ref == chosen)


def _done(desk: Desk, act: Act) -> HttpResponse:
    typed = desk.request.POST
    reason, unlock = typed.get("reason", ""), "unlock" in typed

    def make() -> tuple[Programme, tuple[str, ...]]:
        rulebook, catalogue = load_rulebook(), load_catalogue()
        if "group" not in typed:
            done = rework(
                desk.document, (act,), reason=reason, rulebook=rulebook, catalogue=catalogue, unlock=unlock
            )
            return done, ()
        made, left = rework_group(
            desk.document, act, reason=reason, rulebook=rulebook, catalogue=catalogue, unlock=unlock
        )
        said = _("Not for %(name)s: place, kit, level, age or a restriction does not allow it.")
        return made, tuple(said % {"name": athlete_name(made, one)} for one in left)

    return desk.sent(make)


@needs("change_programme", change="change_programme")
def swap_page(request: Request, squad: SquadCard, programme: ProgrammeCard, ref: str) -> HttpResponse:
    """Show what can be done instead of a line's exercise, and swap it."""
    document = opened(request, squad, programme)
    at = find(document, ref)
    if at.line is None or at.line.purpose != "work":
        raise Http404(_("There is no line of work of that name in this programme."))
    chosen = request.POST.get("exercise", "")
    found = substitutes(document, ref, rulebook=load_rulebook(), catalogue=load_catalogue())
    context: dict[str, object] = {
        "found": at,
        "title": title_of(document, at),
        "options": [_option(one, chosen=chosen) for one in found],
        "others": len(same_refs(document, ref)) - 1,
    }
    desk = Desk(request, squad, programme, document, place_of(at), "programme/swap.html", context)
    if request.method != "POST":
        return desk.page()
    if not chosen:
        return desk.sent(_nothing(_("Choose what is done instead.")))
    return _done(desk, Swap(ref, chosen))


def _nothing(fault: str) -> Callable[[], Programme]:
    """Give what makes no change, and says why."""

    def refuse() -> Programme:
        raise EditError(fault)

    return refuse


@needs("change_programme", change="change_programme")
def add_page(request: Request, squad: SquadCard, programme: ProgrammeCard, ref: str) -> HttpResponse:
    """Show what can be added to a session, and add it."""
    document = opened(request, squad, programme)
    at = find(document, ref)
    session = find(document, at.session.ref)
    typed = request.POST
    chosen = typed.get("exercise", "")
    found = additions(document, at.session.ref, rulebook=load_rulebook(), catalogue=load_catalogue())
    shown = _boxes(typed, units=units_of(request.actor))
    context: dict[str, object] = {
        "found": session,
        "title": title_of(document, session),
        "kinds": _kinds(found, chosen=chosen),
        "own": [(method, word(method), method == typed.get("method")) for method in OWN],
        "own_chosen": chosen == OWN_LINE,
        "own_line": OWN_LINE,
        "boxes": shown,
        "typed": request.method == "POST",
        "minutes": typed.get("minutes", ""),
        "cue": typed.get("cue", ""),
        "others": len(same_refs(document, at.session.ref)) - 1,
    }
    place = Place(at.athlete, at.week.number, at.session.ref)
    desk = Desk(request, squad, programme, document, place, "programme/add.html", context)
    if request.method != "POST":
        return desk.page()
    try:
        act = _added(at.session.ref, shown, typed)
    except EditError as error:
        return desk.sent(_nothing(str(error)))
    return _done(desk, act)


def _boxes(typed: Mapping[str, str], *, units: Units) -> list[Box]:
    empty = [number_box(name, None, units=units) for name in BOXES]
    return [replace(box, value=typed.get(box.name, "")) for box in empty]


def _kinds(found: Sequence[Choice], *, chosen: str) -> list[Kind]:
    methods: dict[str, list[Option]] = {}
    for choice in found:
        methods.setdefault(choice.exercise.method, []).append(_option(choice, chosen=chosen))
    return [Kind(word(method), tuple(options)) for method, options in methods.items()]


def _added(session: str, shown: Sequence[Box], typed: Mapping[str, str]) -> Add:
    chosen = typed.get("exercise", "")
    if not chosen:
        raise EditError(_("Choose an exercise."))
    cue = typed.get("cue", "").strip()
    if chosen == OWN_LINE and not cue:
        raise EditError(_("Say in a few words what your own line is."))
    method = OWN.get(typed.get("method", ""), "other") if chosen == OWN_LINE else None
    numbers = {box.name: float(typed_value(box, box.value)) for box in shown if box.value.strip()}
    minutes = typed.get("minutes", "").strip()
    return Add(
        session,
        chosen,
        method=method,
        numbers=numbers,
        minutes=_minutes(minutes) if minutes else None,
        cue=cue,
    )


def _minutes(text: str) -> float:
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise EditError(_("Minutes: expected a number, got %(text)s.") % {"text": text}) from None


@needs("change_programme", change="change_programme")
def remove_page(request: Request, squad: SquadCard, programme: ProgrammeCard, ref: str) -> HttpResponse:
    """Ask before a line or a session is taken out, and take it out."""
    document = opened(request, squad, programme)
    at = find(document, ref)
    context: dict[str, object] = {
        "found": at,
        "title": title_of(document, at),
        "others": len(same_refs(document, ref)) - 1,
    }
    desk = Desk(request, squad, programme, document, place_of(at), "programme/remove.html", context)
    return _done(desk, Remove(ref)) if request.method == "POST" else desk.page()
