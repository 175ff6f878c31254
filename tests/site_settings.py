"""The site's settings for tests: SQLite in memory, or the PostgreSQL that `SPEEDLOOM_TEST_DATABASE` names."""

from __future__ import annotations

import atexit
import os
import shutil
import tempfile
from pathlib import Path

from speedloom.store.data_folder import DataFolder
from speedloom.web.settings import SiteOptions, site_settings

FOLDER = Path(tempfile.mkdtemp(prefix="speedloom-tests-"))
atexit.register(shutil.rmtree, FOLDER, ignore_errors=True)

globals().update(
    site_settings(
        SiteOptions(
            DataFolder(FOLDER),
            database_url=os.environ.get("SPEEDLOOM_TEST_DATABASE"),
            hosts=("testserver",),
        )
    )
)
