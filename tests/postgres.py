"""The tests of the store and the site once more, on a PostgreSQL of their own in a temporary folder.

`python tests/postgres.py [PYTEST ARGUMENTS]`. The server listens on a socket in that folder and nowhere else.
"""

from __future__ import annotations

import os
import shlex
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import quote

ROOT = Path(__file__).resolve().parent.parent
SAME_TESTS = (
    "tests/store",
    "tests/web",
    "--ignore=tests/store/test_backup.py",  # of SQLite's files
    "--ignore=tests/store/test_kills.py",  # likewise
    "--ignore=tests/store/test_postgres.py",  # this very thing
    "--ignore=tests/web/browser",  # a server and a data folder of their own
    "--ignore=tests/web/test_serve.py",  # likewise
    "--ignore=tests/web/test_translated.py",  # of files, not of what is stored
    *(
        f"--ignore=tests/web/test_{name}.py"  # of planning and reading, in seconds each; little is stored
        for name in (
            "change_mode",
            "new_squad",
            "proposals_page",
            "replan_page",
            "retest_page",
            "review_page",
        )
    ),
)
SYSTEM_ACCOUNT = "postgres"
"""Who runs the server where these tests run as root: PostgreSQL refuses to."""
DEBIAN = Path("/usr/lib/postgresql")
"""Where Debian and Ubuntu keep what a server needs, a folder a version; it is not on the PATH there."""


def programs() -> Path | None:
    """Find the folder of the newest PostgreSQL that can be run on this computer, or None."""
    if os.name == "nt" or (_as_root() and not _has_account()):  # on Windows there is no socket in a folder
        return None
    on_path = shutil.which("initdb")
    if on_path:
        return Path(on_path).resolve().parent
    found = sorted(DEBIAN.glob("*/bin/initdb"), key=lambda path: int(path.parts[-3]))
    return found[-1].parent if found else None


def _as_root() -> bool:
    return hasattr(os, "geteuid") and os.geteuid() == 0


def _has_account() -> bool:
    import pwd

    names = {one.pw_name for one in pwd.getpwall()}
    return SYSTEM_ACCOUNT in names and shutil.which("runuser") is not None


def _as_account(command: list[str]) -> list[str]:
    return ["runuser", "-u", SYSTEM_ACCOUNT, "--", *command] if _as_root() else command


def _run(*command: object) -> None:
    done = subprocess.run(
        _as_account([*map(str, command)]), cwd="/", capture_output=True, text=True, check=False
    )
    if done.returncode:
        raise SystemExit(f"{command[0]}: {done.stdout}{done.stderr}")


@contextmanager
def cluster(bin_folder: Path) -> Iterator[str]:
    """Start a server, and give the URL of an empty database in it."""
    place = Path(tempfile.mkdtemp(prefix="speedloom-pg-"))
    if _as_root():
        shutil.chown(place, SYSTEM_ACCOUNT)
    try:
        _run(bin_folder / "initdb", "-D", place / "data", "-U", "speedloom", "-A", "trust", "--no-sync")
        # Nothing here outlives the tests, so nothing waits for the disk.
        quick = f"-c listen_addresses= -c unix_socket_directories={shlex.quote(str(place))} -c fsync=off"
        _run(bin_folder / "pg_ctl", "-D", place / "data", "-w", "-o", quick, "-l", place / "log", "start")
        try:
            yield f"postgresql://speedloom@{quote(str(place), safe='')}/postgres"
        finally:
            _run(bin_folder / "pg_ctl", "-D", place / "data", "-m", "immediate", "stop")
    finally:
        shutil.rmtree(place, ignore_errors=True)


def main(arguments: list[str]) -> int:
    """Run the tests of the store and the site on PostgreSQL; give pytest's exit code."""
    # A stopped run takes its server with it.
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))
    found = programs()
    if found is None:
        raise SystemExit("No PostgreSQL on this computer: its half of the tests was not run.")
    with cluster(found) as url:
        surroundings = os.environ | {"SPEEDLOOM_TEST_DATABASE": url}
        command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", *arguments]
        return subprocess.run(command, cwd=ROOT, env=surroundings, check=False).returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:] or list(SAME_TESTS)))
