"""Argon2 as the site has it, without the work that makes it slow: tests ask for passwords a thousand times.

The site's own hasher is named in a test of its settings (`store/test_people.py`).
"""

from __future__ import annotations

from django.contrib.auth.hashers import Argon2PasswordHasher


class QuickArgon2(Argon2PasswordHasher):
    """The same algorithm and the same form, in a hundredth of the time."""

    time_cost = 1
    memory_cost = 64
    parallelism = 1
