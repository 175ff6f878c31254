"""Run both commands of the README on a fresh clone, as a stranger would: empty HOME, bare PATH, space in it.

python3 benchmarks/fresh_clone.py [INTERPRETER ...]; default: python3, and /usr/bin/python3 if another
"""

from __future__ import annotations

import os
import platform
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
COMMANDS = ("demo", "test", "demo")
KEPT = ("LANG", "SSL_CERT_FILE", "PIP_CERT", "PIP_INDEX_URL", "HTTPS_PROXY", "https_proxy")
"""What a machine may need to reach its own package index; nothing else is handed on."""


def interpreters() -> list[str]:
    """List the interpreters to try."""
    if sys.argv[1:]:
        return sys.argv[1:]
    found = [shutil.which("python3") or sys.executable, "/usr/bin/python3"]
    return [name for name in dict.fromkeys(found) if Path(name).exists()]


def surroundings(home: Path, interpreter: str) -> dict[str, str]:
    """Make the environment of somebody who has just installed Python."""
    path = os.pathsep.join(dict.fromkeys([str(Path(interpreter).parent), "/usr/bin", "/bin"]))
    return {name: os.environ[name] for name in KEPT if name in os.environ} | {"HOME": str(home), "PATH": path}


def real(interpreter: str) -> str:
    """Find the interpreter behind a launcher that needs the caller's own settings."""
    asked = [interpreter, "-c", "import sys; print(sys.executable)"]
    return subprocess.run(asked, capture_output=True, text=True, check=True).stdout.strip()


def attempt(interpreter: str) -> bool:
    """Clone, run every command, print times; say whether all went well."""
    good = True
    with tempfile.TemporaryDirectory(prefix="speed loom ") as folder:
        clone, home = Path(folder) / "fresh clone", Path(folder) / "home"
        home.mkdir()
        subprocess.run(["git", "clone", "--quiet", str(ROOT), str(clone)], check=True)  # noqa: S607 -- git of the PATH
        version = subprocess.run(
            [interpreter, "--version"], capture_output=True, text=True, check=True
        ).stdout
        print(
            f"\n== {version.strip()} ({interpreter}), {platform.platform()}, {os.cpu_count()} cores",
            flush=True,
        )
        for command in COMMANDS:
            started = time.monotonic()
            line = [interpreter, "run.py", command]
            code = subprocess.run(
                line, cwd=clone, env=surroundings(home, interpreter), check=False
            ).returncode
            print(f"-- run.py {command}: exit {code}, {time.monotonic() - started:.1f} s", flush=True)
            good = good and code == 0
        left = sorted(path.name for path in home.iterdir())
        print(f"-- left in HOME: {', '.join(left) or 'nothing'}", flush=True)
    return good


if __name__ == "__main__":
    outcomes = [attempt(real(name)) for name in interpreters()]
    sys.exit(0 if all(outcomes) else 1)
