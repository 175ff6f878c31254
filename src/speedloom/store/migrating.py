"""The tables brought up to date: all steps in one transaction, after a safety copy."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from django.core.management import call_command
from django.db import connection, transaction
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.loader import MigrationLoader

from speedloom.store.backup import back_up
from speedloom.store.data_folder import DataFolder


def waiting_migrations() -> tuple[str, ...]:
    """Name the steps that the tables still need."""
    executor = MigrationExecutor(connection)
    plan = executor.migration_plan(executor.loader.graph.leaf_nodes())
    return tuple(f"{step.app_label}.{step.name}" for step, _ in plan)


def applied_migrations() -> tuple[str, ...]:
    """Name the steps that the database says it has taken."""
    return tuple(
        sorted(f"{app}.{name}" for app, name in MigrationExecutor(connection).loader.applied_migrations)
    )


def known_migrations() -> frozenset[str]:
    """Name the steps that this version has."""
    return frozenset(f"{app}.{name}" for app, name in MigrationLoader(None).disk_migrations)


def bring_up_to_date(folder: DataFolder) -> tuple[str, ...]:
    """Take every step the tables need, all or none; give their names.

    One transaction around them all: Django writes down that a step was taken after the step itself, and a
    program stopped between the two would find tables that it then tries to make again.
    """
    steps = waiting_migrations()
    if not steps:
        return ()
    if connection.vendor == "sqlite" and applied_migrations():
        safety_copy(folder, before="update")
    # SQLite changes this only outside a transaction, and the tables are changed without it.
    connection.disable_constraint_checking()
    try:
        with transaction.atomic():
            call_command("migrate", verbosity=0, interactive=False)
            connection.check_constraints()
    finally:
        connection.enable_constraint_checking()
    return steps


def safety_copy(folder: DataFolder, *, before: str) -> Path:
    """Copy the database into the data folder's backups, named for this moment."""
    target = safety_name(folder, before=before, ending="sqlite3")
    back_up(folder.database, target)
    return target


def safety_name(folder: DataFolder, *, before: str, ending: str) -> Path:
    """Name a copy in the data folder's backups for this moment."""
    folder.backups.mkdir(mode=0o700, exist_ok=True)
    return folder.backups / f"before-{before}-{datetime.now(tz=UTC):%Y%m%dT%H%M%S%f}.{ending}"
