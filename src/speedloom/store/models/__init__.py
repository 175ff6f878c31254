"""The tables. Nothing outside the store sees a row of them."""

from speedloom.store.models.clearances import Clearance
from speedloom.store.models.daily import Note, Wellness
from speedloom.store.models.doors import ApiToken, Invitation, OneTimeSignIn, ShareLink, SignInFailure
from speedloom.store.models.measurements import Measurement
from speedloom.store.models.people import Membership, Person
from speedloom.store.models.programmes import LogEntry, Programme, ProgrammeRevision
from speedloom.store.models.screenings import Asked
from speedloom.store.models.squads import Athlete, Audit, BriefRevision, Restriction, Squad

__all__ = [
    "ApiToken",
    "Asked",
    "Athlete",
    "Audit",
    "BriefRevision",
    "Clearance",
    "Invitation",
    "LogEntry",
    "Measurement",
    "Membership",
    "Note",
    "OneTimeSignIn",
    "Person",
    "Programme",
    "ProgrammeRevision",
    "Restriction",
    "ShareLink",
    "SignInFailure",
    "Squad",
    "Wellness",
]
