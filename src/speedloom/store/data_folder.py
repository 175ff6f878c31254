"""The folder that holds everything of one site: the database, the secret key and the backups."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from secrets import token_urlsafe
from tempfile import mkstemp

ONLY_ME, ONLY_MY_FOLDER = 0o600, 0o700
_KEY_LENGTH = 50


@dataclass(frozen=True)
class DataFolder:
    """Where one site keeps what it knows."""

    path: Path

    @property
    def database(self) -> Path:
        """The SQLite database."""
        return self.path / "speedloom.sqlite3"

    @property
    def backups(self) -> Path:
        """Where copies made before a change of the tables, or before restoring, are kept."""
        return self.path / "backups"

    @property
    def key_file(self) -> Path:
        """The file of the secret key, which signs sessions; losing it signs everybody out, no more."""
        return self.path / "secret_key"

    def make(self) -> DataFolder:
        """Make the folder, for this account only, when it is not there."""
        if not self.path.exists():
            self.path.mkdir(parents=True, mode=ONLY_MY_FOLDER)
        return self

    def secret_key(self) -> str:
        """Give the site's secret key; one is made the first time, readable by this account only."""
        found = self._key()
        if len(found) >= _KEY_LENGTH:
            return found
        self.make()
        number, name = mkstemp(dir=self.path, prefix=".key-")  # made with 0600
        with os.fdopen(number, "w", encoding="ascii") as aside:
            aside.write(token_urlsafe(_KEY_LENGTH))
        Path(name).replace(self.key_file)
        return self._key()

    def _key(self) -> str:
        try:
            return self.key_file.read_text(encoding="ascii").strip()
        except FileNotFoundError:
            return ""


def standard_folder() -> DataFolder:
    """Give the platform's own place for a program's data."""
    from platformdirs import user_data_path  # noqa: PLC0415 - only who asks for the standard place waits

    return DataFolder(user_data_path("speedloom", appauthor=False))
