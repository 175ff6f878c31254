"""Every error and warning of the package, one line each."""


class SpeedloomError(Exception):
    """Any error this package raises on purpose."""


class OutOfRangeError(SpeedloomError, ValueError):
    """A number outside the range a formula or rule was made for."""


class CannotStartError(SpeedloomError, ValueError):
    """The resistance at rest is at least as large as the athlete's start force."""


class TooFewGatesError(SpeedloomError, ValueError):
    """A fit that has fewer usable times than unknowns and no prior to help it."""


class UnknownNumberError(SpeedloomError, KeyError):
    """A reference or field that a programme does not hold, or a number without a derivation."""

    def __str__(self) -> str:
        return str(self.args[0])


class SolverError(SpeedloomError):
    """The optimiser ended without an answer."""


class UnprintableTextError(SpeedloomError, ValueError):
    """A name, cue or title with a sign that no font at hand can show."""


class ReplanError(SpeedloomError, ValueError):
    """A programme that cannot be planned again from the day that was asked for."""


class EditError(SpeedloomError, ValueError):
    """A change by hand that the programme cannot take."""


class LogError(SpeedloomError, ValueError):
    """A log that is about another programme, or that cannot take what was to be written."""


class ReviewError(SpeedloomError, ValueError):
    """A review of a week that the programme does not have."""
