"""What the store refuses, each with a sentence for the person."""

from __future__ import annotations

from speedloom.errors import SpeedloomError


class NotAllowedError(SpeedloomError):
    """The person is of the squad, and their role does not reach this far."""


class NotYoursToLiftError(NotAllowedError):
    """The person sees a restriction, and somebody else lifts it."""


class NotThereError(SpeedloomError):
    """No such thing, or one in a squad the person is not of: the two are told apart by nobody."""


class ConflictError(SpeedloomError):
    """Somebody saved something else meanwhile; nothing was written over."""


class RefusedError(SpeedloomError, ValueError):
    """What was asked cannot be stored as it is."""


class ExpiredError(SpeedloomError):
    """A link that was used, taken back, or is too old."""


class TooManyTriesError(SpeedloomError):
    """Sign-in was tried too often; it opens again by itself."""
