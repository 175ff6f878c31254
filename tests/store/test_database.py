"""How the database is spoken to."""

from __future__ import annotations

import os

import pytest
from django.db import connection

from speedloom.store.database import sqlite_settings


@pytest.mark.django_db
def test_the_database_is_the_one_that_was_asked_for() -> None:
    wanted = "postgresql" if os.environ.get("SPEEDLOOM_TEST_DATABASE") else "sqlite"
    connection.ensure_connection()
    assert connection.vendor == wanted


def test_sqlite_waits_and_locks_as_it_begins(tmp_path: object) -> None:
    options = sqlite_settings(tmp_path / "x.sqlite3")["OPTIONS"]  # type: ignore[operator]
    assert options["transaction_mode"] == "IMMEDIATE"
    assert options["timeout"] >= 10
    assert "journal_mode=WAL" in options["init_command"]
    assert "synchronous=FULL" in options["init_command"]
