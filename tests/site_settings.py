"""The site's settings for tests: SQLite in memory, or the PostgreSQL that `SPEEDLOOM_TEST_DATABASE` names."""

from __future__ import annotations

import getpass
import os
import tempfile
from pathlib import Path

from speedloom.store.data_folder import DataFolder
from speedloom.web.settings import SiteOptions, site_settings

# One folder for every run, for nothing but the secret key: mypy reads this file too and tidies nothing up.
FOLDER = Path(tempfile.gettempdir()) / f"speedloom-tests-{getpass.getuser()}"

globals().update(
    site_settings(
        SiteOptions(
            DataFolder(FOLDER),
            database_url=os.environ.get("SPEEDLOOM_TEST_DATABASE"),
            hosts=("testserver",),
        )
    )
)
# Hashing is slow on purpose. What is tested is that a password is hashed and asked, not how long that takes.
PASSWORD_HASHERS = ["quick_argon2.QuickArgon2"]
