"""What every test shares: Hypothesis draws the same cases on every machine; two squads are stored once."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import settings

if TYPE_CHECKING:
    from invented_squads import Squads

LONGEST = "tests/store/test_postgres.py"
"""It runs the store's and the site's tests once more, on PostgreSQL."""

settings.register_profile("house", derandomize=True, deadline=None)
settings.load_profile("house")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with the one test that takes minutes: begun last, it would leave the other core without work."""
    items.sort(key=lambda item: not item.nodeid.startswith(LONGEST))


@pytest.fixture(scope="session")
def _stored_squads(django_db_setup: None, django_db_blocker: Any) -> Squads:  # noqa: ANN401, ARG001
    # Hashing passwords is slow on purpose, so the squads are made once and every test begins from them.
    from invented_squads import two_squads

    with django_db_blocker.unblock():
        return two_squads()


@pytest.fixture
def squads(db: None, _stored_squads: Squads) -> Squads:  # noqa: ARG001 - the database is needed, not looked at
    """Two squads in the database, as they were made; what the test changes is taken back after it."""
    from invented_squads import two_squads
    from speedloom.store.models import Squad

    # A test with transactions of its own leaves an empty database behind.
    return _stored_squads if Squad.objects.exists() else two_squads()
