"""Everything that is written on the field goes through here: looked at, marked, stored, asked about."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import timedelta

from django.utils import timezone

from speedloom.exchange.fault import Fault, UnusableFileError
from speedloom.exchange.log_file import check_log
from speedloom.exchange.zone import zone_of
from speedloom.store.cards import Actor
from speedloom.store.log_of_day import written_before
from speedloom.store.programmes import read_programme
from speedloom.store.stops import is_stop, write
from speedloom.training.document import canonical
from speedloom.training.log import SCHEMA, Log, LogEntry
from speedloom.training.programme import Programme
from speedloom.training.rule import Rulebook
from speedloom.web.pages.programme.shown import units_of
from speedloom.wording.books import books_of
from speedloom.wording.dates import day_month
from speedloom.wording.log_questions import question_sentence
from speedloom.wording.units import Units
from speedloom.workflows.log_questions import questions, with_marks
from speedloom.workflows.standing_log import StandingLog, placed_entries

FILE = "log"
CLOCKS_DIFFER = timedelta(minutes=15)
"""How far a phone's clock may go before the site's."""
MOST_CHARACTERS, MOST_RESULTS = 2000, 500
FUTURE = "at: expected a moment that is over, got {at}; does this device's clock go before?"
TO_COME = (
    "{day} is still to come: only who will be absent is written beforehand. Write the rest on the day; "
    "trained already? Say that it was trained today."
)
TOO_LONG = "Expected a note of up to {characters} characters and up to {results} results."
OTHER_PERSON = (
    "{by} typed this and {login} is signed in. Sign in as {by}, or save it as a file and send that in."
)
CLASH = "Another entry is stored under this id; what you typed stays here. Type it again to send it."
TWICE = "Two different entries came under this id; the first of them counts. Type the other again to send it."


@dataclass(frozen=True)
class Asked:
    """A gentle question about one value that was stored as it was typed."""

    id: str
    set: int | None
    rep: int | None
    question: str


@dataclass(frozen=True)
class Why:
    """An entry that was not stored, and why."""

    id: str
    why: str


@dataclass(frozen=True)
class Taken:
    """What became of entries that were sent: every id stands in one of the first four.

    An id that came twice, for two different entries, stands among the clashing as well.
    """

    stored: tuple[str, ...] = ()
    known: tuple[str, ...] = ()
    clashing: tuple[Why, ...] = ()
    refused: tuple[Why, ...] = ()
    asked: tuple[Asked, ...] = field(default=())

    @property
    def nothing_kept(self) -> bool:
        """Say whether all of it was refused."""
        return bool(self.refused) and not (self.stored or self.known or self.clashing)


def take(
    actor: Actor, squad: str, programme: str, entries: Iterable[LogEntry], *, own_hand: bool = True
) -> Taken:
    """Store entries about a programme: what is strange is marked and asked about, what cannot be is refused.

    Args:
        actor: who sends them.
        squad: the squad's key.
        programme: the programme's id.
        entries: what was written; an entry that is stored already is confirmed again.
        own_hand: whether they have to be typed by the person who sends them; False for a file.

    Raises:
        NotAllowedError: an entry is about an athlete this person does not write for; nothing is stored.
    """
    sent, twice = _each_once(_signed(actor, entry) for entry in entries)
    document = read_programme(actor, squad, programme)
    rulebook, _catalogue = books_of(document)
    there = _there(actor, squad, programme, sent)
    refused = {
        **_faulty(document, sent, there),
        **_beyond_belief(sent),
        **_to_come(document, sent, there),
        **(_others(actor, sent) if own_hand else {}),
    }
    good = [entry for entry in sent if entry.id not in refused]
    marked = with_marks(_log(document, good), document, rulebook=rulebook, more_to_come=True).entries
    settled = [_as_stored(entry, there) for entry in marked]
    kept = write(actor, squad, programme, settled)
    clashing = (*(Why(entry.id, CLASH) for entry in kept.clashing), *(Why(one.id, TWICE) for one in twice))
    new = [entry for entry in settled if entry.id in kept.stored]
    return Taken(
        stored=kept.stored,
        known=kept.known,
        clashing=clashing,
        refused=tuple(Why(key, why) for key, why in refused.items()),
        asked=asked_about(document, new, rulebook=rulebook, units=units_of(actor)),
    )


def _each_once(entries: Iterable[LogEntry]) -> tuple[tuple[LogEntry, ...], tuple[LogEntry, ...]]:
    """Part the first of each id from those that say something else under an id that came before them."""
    first: dict[str, LogEntry] = {}
    others: dict[str, LogEntry] = {}
    for entry in entries:
        if _content(first.setdefault(entry.id.lower(), entry)) != _content(entry):
            others.setdefault(_content(entry), entry)
    return tuple(first.values()), tuple(others.values())


def asked_about(
    programme: Programme, entries: Sequence[LogEntry], *, rulebook: Rulebook, units: Units
) -> tuple[Asked, ...]:
    """Ask about every strange value of some entries."""
    placed = placed_entries(_log(programme, entries), programme)
    found = questions(StandingLog(placed, programme), rulebook=rulebook, more_to_come=True)
    return tuple(
        Asked(
            one.entry.id,
            one.result.set if one.result else None,
            one.result.rep if one.result else None,
            question_sentence(one, programme=programme, rulebook=rulebook, units=units),
        )
        for one in found
    )


def _signed(actor: Actor, entry: LogEntry) -> LogEntry:
    """Write beside the one who wrote an entry who sent it in; what a file says of that is not believed."""
    return entry.model_copy(update={"sent_by": None if entry.by == actor.login else actor.login})


def _there(actor: Actor, squad: str, programme: str, sent: Sequence[LogEntry]) -> Mapping[str, LogEntry]:
    """Give what is stored under the ids that are sent, and what those correct."""
    ids = {entry.id for entry in sent} | {entry.replaces for entry in sent if entry.replaces}
    return written_before(actor, squad, programme, ids)


def _as_stored(entry: LogEntry, there: Mapping[str, LogEntry]) -> LogEntry:
    """Give what is stored where it says the same: marks are the site's, and rules may change meanwhile."""
    old = there.get(entry.id.lower())
    return old if old is not None and _content(old) == _content(entry) else entry


def _content(entry: LogEntry) -> str:
    results = tuple(one.model_copy(update={"mark": None}) for one in entry.results)
    return canonical(entry.model_copy(update={"results": results, "mark": None, "sent_by": None}))


def _faulty(programme: Programme, sent: Sequence[LogEntry], there: Mapping[str, LogEntry]) -> dict[str, str]:
    """Find the entries that the programme cannot explain, with all that is wrong with each."""
    before = [entry for key, entry in there.items() if key not in {one.id.lower() for one in sent}]
    try:
        check_log(_log(programme, [*before, *sent]), programme, file=FILE)
    except UnusableFileError as error:
        found: dict[str, list[str]] = {}
        for fault in error.faults:
            number = int(fault.column.split(".")[1]) - 1 - len(before)
            if number >= 0 and sent[number].id.lower() not in there:
                found.setdefault(sent[number].id, []).append(_said(fault))
        return {key: " ".join(said) for key, said in found.items()}
    return {}


def _said(fault: Fault) -> str:
    what = fault.column.split(".", 2)[2]
    todo = f" {fault.todo[:1].upper()}{fault.todo[1:]}." if fault.todo else ""
    return f"{what}: expected {fault.expected}, got {fault.what_came}.{todo}"


def _others(actor: Actor, sent: Sequence[LogEntry]) -> dict[str, str]:
    return {
        entry.id: OTHER_PERSON.format(by=entry.by, login=actor.login)
        for entry in sent
        if entry.by != actor.login
    }


def _beyond_belief(sent: Sequence[LogEntry]) -> dict[str, str]:
    """Find entries from the future, which would stand before every correction, and those without end."""
    now = timezone.now()
    late = {entry.id: FUTURE.format(at=entry.at) for entry in sent if entry.at > now + CLOCKS_DIFFER}
    long = {
        entry.id: TOO_LONG.format(characters=MOST_CHARACTERS, results=MOST_RESULTS)
        for entry in sent
        if len(entry.note) > MOST_CHARACTERS or len(entry.results) > MOST_RESULTS
    }
    return {**late, **long}


def _to_come(programme: Programme, sent: Sequence[LogEntry], there: Mapping[str, LogEntry]) -> dict[str, str]:
    """Find work of a day to come by the programme's clock: `at` says when it was typed, not when it was done.

    Who will be absent may be written beforehand, and what stands there wrongly can be taken back. A stop for
    pain is never refused, whatever page it was typed on: its limit holds from today.
    """
    today = (timezone.now() + CLOCKS_DIFFER).astimezone(zone_of(programme)).date()
    return {
        entry.id: TO_COME.format(day=day_month(entry.date))
        for entry in sent
        if entry.date > today and entry.id.lower() not in there and not _beforehand(entry)
    }


def _beforehand(entry: LogEntry) -> bool:
    taken_back = entry.replaces is not None and entry.status in {"modified", "skipped"}
    return not entry.results and (entry.status == "absent" or is_stop(entry) or taken_back)


def _log(programme: Programme, entries: Sequence[LogEntry]) -> Log:
    return Log.model_validate(
        {
            "schema": SCHEMA,
            "programme": programme.id,
            "timezone": programme.timezone,
            "entries": tuple(entries),
        }
    )
