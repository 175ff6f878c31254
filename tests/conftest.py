"""What every test shares: Hypothesis draws the same cases on every machine."""

from hypothesis import settings

settings.register_profile("house", derandomize=True, deadline=None)
settings.load_profile("house")
