"""Places and kit in words, and what uses them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext as _

from speedloom.store.cards import Actor
from speedloom.store.programmes import programmes, read_programme
from speedloom.training.brief import Brief
from speedloom.training.kit import Friction, Kit, Place
from speedloom.training.programme import Session
from speedloom.wording.dates import listing
from speedloom.wording.names import place_name, word
from speedloom.wording.units import Units, length, mass, number


@dataclass(frozen=True)
class KitShown:
    """A piece of kit as the page lists it."""

    ref: str
    name: str
    text: str


@dataclass(frozen=True)
class PlaceShown:
    """A place as the page lists it, with what stands there."""

    ref: str
    name: str
    kind: str
    text: str
    kit: tuple[KitShown, ...]


def places_shown(brief: Brief, *, units: Units) -> tuple[PlaceShown, ...]:
    """Give every place with its kit."""
    return tuple(
        PlaceShown(
            place.ref,
            place_name(place.ref),
            word(place.kind),
            ", ".join(_place(place, units)),
            tuple(
                KitShown(kit.ref, place_name(kit.ref), ", ".join(_kit(kit, units)))
                for kit in brief.kit
                if kit.place == place.ref
            ),
        )
        for place in brief.places
    )


def _place(place: Place, units: Units) -> Iterator[str]:
    yield word(place.kind)
    if place.surface:
        yield word(place.surface)
    if place.straight_m is not None:
        yield _("straight of %s") % length(place.straight_m, units=units)
    if place.run_out_m is not None:
        yield _("%s of it run-out") % length(place.run_out_m, units=units)
    if place.lanes is not None:
        yield _("%s lanes") % place.lanes


def _kit(kit: Kit, units: Units) -> Iterator[str]:
    yield f"{kit.count} × {word(kit.kind)}" if kit.count > 1 else word(kit.kind)
    if kit.empty_kg is not None:
        yield _("%s empty") % mass(kit.empty_kg, units=units)
    for said, pieces in ((_("plates"), kit.plates_kg), (_("weights"), kit.weights_kg)):
        if pieces:
            yield f"{said} {listing(f'{count} × {mass(one, units=units)}' for one, count in pieces)}"
    if kit.height_m is not None:
        yield _("%s high") % length(kit.height_m, units=units)
    if kit.friction is not None:
        yield _friction(kit.friction)


def _friction(friction: Friction) -> str:
    if friction.value is not None:
        return f"friction {number(friction.value)} ± {number(friction.se or 0, decimals=3)}, timed"
    return f"friction {number(friction.low or 0)} to {number(friction.high or 0)}"


def uses_of_place(actor: Actor, squad: str, brief: Brief, ref: str, *, today: date) -> list[str]:
    """Say what keeps a place from being removed."""
    slots = [place_name(slot.ref) for slot in brief.slots if slot.place == ref]
    kit = [place_name(kit.ref) for kit in brief.kit if kit.place == ref]
    found = []
    if slots:
        found.append(_("The slot %s lies there; change the days first.") % listing(slots))
    if kit:
        found.append(_("%s stands there; remove or move it first.") % listing(kit).capitalize())
    return found + list(_uses(actor, squad, lambda session: session.place == ref, today=today))


def uses_of_kit(actor: Actor, squad: str, ref: str, *, today: date) -> list[str]:
    """Say what keeps kit from being removed."""

    def with_kit(session: Session) -> bool:
        return any(line.kit == ref for line in session.prescriptions)

    return list(_uses(actor, squad, with_kit, today=today))


def _uses(actor: Actor, squad: str, using: Callable[[Session], bool], *, today: date) -> Iterator[str]:
    for card in programmes(actor, squad):
        document = read_programme(actor, squad, card.id)
        days = {
            session.date
            for own in document.programmes
            for week in own.weeks
            for session in week.sessions
            if session.date >= today and using(session)
        }
        if days:
            yield _(
                "The programme %(name)s uses it on %(count)s days that are still to come; plan it again "
                "without it, or put the programme away, first."
            ) % {"name": card.name, "count": len(days)}
