"""Changes by hand: a line's numbers, a session's day, locks; the check answers before anything is saved."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from django.http import HttpResponse
from django.utils.translation import gettext as _

from speedloom.errors import EditError
from speedloom.exchange.amount import amount
from speedloom.planning.edited import Change
from speedloom.planning.holding import LINE_NUMBERS
from speedloom.store.cards import ProgrammeCard, SquadCard
from speedloom.store.refusals import ConflictError
from speedloom.training.programme import Prescription, Programme
from speedloom.training.rule import load_rulebook
from speedloom.web.access import Request, needs
from speedloom.web.pages.programme.changes_saved import Desk, Place, find, opened, saved
from speedloom.web.pages.programme.shown import numbers_of, units_of
from speedloom.wording.books import books_of
from speedloom.wording.dates import clock, day_month
from speedloom.wording.differences import FIELDS
from speedloom.wording.names import line_name, word
from speedloom.wording.units import Units, length_number, mass_number, number, share
from speedloom.workflows.edit import edit
from speedloom.workflows.group import Found, same_refs


@dataclass(frozen=True)
class Box:
    """One thing that can be typed: its name, label, unit, and what stands there."""

    name: str
    label: str
    unit: str
    value: str
    kind: str = "text"


def boxes(found: Found, *, units: Units) -> tuple[Box, ...]:
    """Give what can be typed for a line or a session, with what stands there now."""
    if found.line is None:
        return (
            Box("date", _("Date"), "", found.session.date.isoformat(), "date"),
            Box("start", _("Start"), "", clock(found.session.start), "time"),
        )
    numbers = tuple(_box(found.line, name, units) for name in numbers_of(found.line))
    return (*numbers, Box("cue", _("Cue"), "", found.line.cue))


def _box(line: Prescription, name: str, units: Units) -> Box:
    value = getattr(line, name)
    return number_box(name, value, units=units)


def number_box(name: str, value: float | None, *, units: Units) -> Box:
    """Give the box of one number of a line, in the person's units."""
    unit = LINE_NUMBERS.get(name, "min")
    shown = {"kg": units.mass, "m": units.length, "share": "%", "s": "s", "min": "min"}.get(unit, "")
    label = FIELDS.get(name, word(name)).capitalize()
    return Box(name, label, shown, "" if value is None else _typed(value, unit, units))


def _typed(value: float, unit: str, units: Units) -> str:
    if unit == "kg":
        return mass_number(value, units=units)
    if unit == "m":
        return length_number(value, units=units)
    return share(value).rstrip(" %") if unit == "share" else number(value)


def typed_value(box: Box, text: str) -> float | str:
    """Read what was typed into a box, with or without its unit.

    Raises:
        EditError: it is no such number.
    """
    unit = LINE_NUMBERS.get(box.name)
    if unit is None:
        return text.strip()
    bare = text.strip().replace("−", "-")
    written = bare if not bare or bare[-1].isalpha() or bare[-1] == "%" else f"{bare} {box.unit}".strip()
    try:
        return amount(written, unit=unit)
    except ValueError as error:
        message = f"{box.label}: {error}"
        raise EditError(message) from error


def place_of(at: Found) -> Place:
    """Give the place of a line or a session."""
    return Place(at.athlete, at.week.number, at.line.ref if at.line else at.session.ref)


def title_of(document: Programme, at: Found) -> str:
    """Name a line or a session."""
    _book, catalogue = books_of(document)
    if at.line is not None:
        return line_name(at.line, catalogue=catalogue)
    return f"{day_month(at.session.date)}, {clock(at.session.start)}"


@needs("change_programme", change="change_programme")
def change_page(request: Request, squad: SquadCard, programme: ProgrammeCard, ref: str) -> HttpResponse:
    """Show what can be changed of a line or a session, and change it."""
    document = opened(request, squad, programme)
    at = find(document, ref)
    shown = boxes(at, units=units_of(request.actor))
    refs = same_refs(document, ref)
    context: dict[str, object] = {
        "found": at,
        "title": title_of(document, at),
        "boxes": [replace(box, value=request.POST.get(box.name, box.value)) for box in shown],
        "others": len(refs) - 1,
    }
    desk = Desk(request, squad, programme, document, place_of(at), "programme/change.html", context)
    if request.method != "POST":
        return desk.page()

    def make() -> Programme:
        typed = request.POST
        values = _values(shown, typed)
        changes = [
            Change(one, name, value)
            for one in (refs if "group" in typed else refs[:1])
            for name, value in values.items()
        ]
        reason = typed.get("reason", "")
        return edit(document, changes, reason=reason, rulebook=load_rulebook(), unlock="unlock" in typed)

    return desk.sent(make)


def _values(shown: tuple[Box, ...], typed: Mapping[str, str]) -> dict[str, float | str]:
    values = {
        box.name: typed_value(box, typed[box.name])
        for box in shown
        if typed.get(box.name, box.value).strip() != box.value.strip()
    }
    if not values:
        raise EditError(_("Nothing was changed: every number is as it was."))
    return values


@needs(None, change="change_programme")
def lock_page(request: Request, squad: SquadCard, programme: ProgrammeCard, ref: str) -> HttpResponse:
    """Lock or unlock a whole session, or take the locks of a line away."""
    document = opened(request, squad, programme)
    at = find(document, ref)
    if request.POST.get("after") != programme.digest:
        raise ConflictError(_("Somebody changed the programme meanwhile. Look at it and lock it again."))
    lock = "lock" in request.POST
    if at.line is None:
        changes = [Change(ref, "", lock=lock)]
    else:
        changes = [Change(ref, name, lock=lock) for name in at.line.locked]
    reason = request.POST.get("reason") or (_("locked") if lock else _("unlocked"))
    made = edit(document, changes, reason=reason, rulebook=load_rulebook())
    return saved(request, programme, (document, made), at=place_of(at))
