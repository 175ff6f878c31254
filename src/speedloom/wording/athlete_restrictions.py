"""Restrictions in the words that athletes and those who work with them read: no reason, no diagnosis."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Literal

from speedloom.training.athlete import Restriction
from speedloom.wording.dates import full_date

SetIn = Literal["owner", "coach", "assistant", "clinician", "athlete", "viewer"]
State = Literal["now", "later", "over", "lifted"]

RULE = (
    "What a clinician set is lifted by a clinician only; what a coach set by that coach or a clinician; what "
    "was set on the field by an assistant or an athlete by any coach or a clinician. "
    "The program lifts nothing."
)
NO_CLINICIAN = (
    "Nobody in this squad has the role clinician. Coaches lift what they set themselves, and a return after "
    "injury, concussion or illness needs a written clearance, which the coach records here."
)
NOBODY_LIFTS = (
    "Nobody of this squad may lift it now: whoever set it is not here any more, or a clinician did. "
    "The owner can invite a clinician on the page of the squad's people."
)
NONE_OWN = "You may train everything that is written for you."
STOP_SAID = "Stopped. Your coach sees it on their first page. It holds until a coach or a clinician lifts it."
AFTER_NAMES: Mapping[str, str] = {
    "injury": "after an injury",
    "concussion": "after a concussion",
    "illness": "after an illness",
    "other": "for another reason",
}
_AS: Mapping[SetIn, str] = {
    "owner": "coach",
    "coach": "coach",
    "assistant": "assistant",
    "clinician": "clinician",
    "athlete": "athlete",
    "viewer": "viewer",
}
_ON_THE_FIELD = frozenset({"assistant", "athlete"})


def set_text(restriction: Restriction, *, set_in: SetIn, at: date) -> str:
    """Say who set it, as what and when.

    >>> from datetime import date
    >>> one = {"ref": "a", "limits": [{"what": "sets", "at_most": 0.0}], "from": "2026-01-12"}
    >>> import json
    >>> one = Restriction.model_validate_json(json.dumps(one | {"set_by": "Dr Sam", "set_as": "clinician"}))
    >>> set_text(one, set_in="clinician", at=date(2026, 1, 12))
    'Set by Dr Sam, as clinician, on 12 January 2026'
    """
    role = restriction.set_as if restriction.set_as == "clinician" else _AS[set_in]
    return f"Set by {restriction.set_by}, as {role}, on {full_date(restriction.set_on or at)}"


def lifts_text(restriction: Restriction, *, set_in: SetIn) -> str:
    """Say who may lift it; a name stands where it needs no capital.

    >>> one = {"ref": "a", "limits": [{"what": "sets", "at_most": 0.0}], "from": "2026-01-12"}
    >>> import json
    >>> one = json.dumps(one | {"set_by": "the coach (invented)", "set_as": "coach"})
    >>> lifts_text(Restriction.model_validate_json(one), set_in="coach")
    'It is lifted by the coach (invented) or a clinician'
    """
    if restriction.set_as == "clinician":
        return "Only a clinician lifts it"
    if set_in in _ON_THE_FIELD:
        return "Any coach or a clinician lifts it"
    return f"It is lifted by {restriction.set_by} or a clinician"


def nothing_until(restriction: Restriction, *, set_in: SetIn) -> str:
    """Say to an athlete for whom everything is stopped who lifts that.

    >>> one = {"ref": "a", "limits": [{"what": "sets", "at_most": 0.0}], "from": "2026-01-12"}
    >>> import json
    >>> one = json.dumps(one | {"set_by": "Yara", "set_as": "coach"})
    >>> nothing_until(Restriction.model_validate_json(one), set_in="athlete")
    'You train nothing until any coach or a clinician lifts it.'
    """
    who = f"{restriction.set_by} or a clinician"
    if restriction.set_as == "clinician":
        who = "a clinician"
    elif set_in in _ON_THE_FIELD:
        who = "any coach or a clinician"
    last = f", or {full_date(restriction.until)} is over" if restriction.until else ""
    return f"You train nothing until {who} lifts it{last}."


def came_text(programme: str) -> str:
    """Say where a limit was before, that came inside a programme.

    >>> came_text("Spring")
    'It came with the programme Spring. Since that was saved it is kept here, and here it is lifted'
    """
    return (
        f"It came with the programme {programme}. Since that was saved it is kept here, and here it is lifted"
    )


def state_of(restriction: Restriction, *, lifted: bool, today: date) -> State:
    """Say whether it is in force; a last day that has passed ends it, as whoever set it wrote."""
    if lifted:
        return "lifted"
    if restriction.holds(today):
        return "now"
    return "later" if restriction.from_ > today else "over"


def holds_text(restriction: Restriction, *, today: date, lifted: bool = False) -> str:
    """Say from when to when it holds, or held until it was lifted."""
    first, last = full_date(restriction.from_), restriction.until
    if lifted:
        return f"Set from {first} on{f' to {full_date(last)}' if last else ''}, and lifted since"
    begins = f"From {first}" if restriction.from_ > today else f"Since {first}"
    if last is None:
        return f"{begins}, until it is lifted"
    if last < today:
        return f"{begins}; {full_date(last)} was its last day, as it was set"
    return f"{begins}; {full_date(last)} is its last day"
