"""Every error and warning of the package, one line each."""


class SpeedloomError(Exception):
    """Any error this package raises on purpose."""


class OutOfRangeError(SpeedloomError, ValueError):
    """A number outside the range a formula or rule was made for."""
