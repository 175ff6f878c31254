#!/usr/bin/env python3
"""Make Speedloom's own environment beside this file and run it: python3 run.py demo | test | check."""

from __future__ import annotations

import hashlib
import importlib
import importlib.util
import os
import shutil
import signal
import subprocess
import sys
import time
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
STAMP = VENV / "speedloom.stamp"
WISHES = (ROOT / "pyproject.toml", ROOT / "constraints.txt")

CHECKS = {
    "ruff check": ("-m", "ruff", "check"),
    "ruff format": ("-m", "ruff", "format", "--check"),
    "mypy": ("-m", "mypy"),
    "import contracts": ("-c", "from importlinter.cli import lint_imports_command as c; c()"),
    "docs": ("-m", "pytest", "-q", "tests/docs"),
}
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome",
            "microsoft-edge", "microsoft-edge-stable", "msedge")  # fmt: skip
"""What the browsers that understand the tests are called, in the order in which they are looked for."""
BROWSER_PLACES = (
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
    "%ProgramFiles%/Google/Chrome/Application/chrome.exe",
    "%ProgramFiles(x86)%/Google/Chrome/Application/chrome.exe",
    "%LocalAppData%/Google/Chrome/Application/chrome.exe",
    "%ProgramFiles(x86)%/Microsoft/Edge/Application/msedge.exe",
)
"""Where they stand on systems that do not put them on the PATH."""
OWN_BROWSER = """
from playwright.sync_api import sync_playwright
with sync_playwright() as one:
    print(one.chromium.executable_path)
"""
APT = ("apt-get", "-o", "DPkg::Lock::Timeout=120")
WANTED = ("install", "--yes", "--no-install-recommends")
TESTS = ("-m", "pytest", "-q", "-n", "auto", "--dist", "worksteal")
DOCS_STAND = "--ignore=tests/docs"
"""The docs' own tests are one of the checks, which have just been passed."""
USAGE = """\
usage: python3 run.py demo | test | check

  demo    plan the invented demo squad, print what was made and where, and open it in the browser
          (arguments go on to `speedloom demo`; without a terminal it ends when all is made)
  test    check, then every test (arguments go on to pytest); installs a browser for them if there is none,
          and PostgreSQL on Debian and Ubuntu as root
  check   style, types, import contracts and docs"""


def say(text: str) -> None:
    """Print one step, at once."""
    print(f"run.py: {text}", flush=True)


def place() -> str:
    """Name what a virtual environment cannot survive a change of: the interpreter and the folder."""
    return f"{sys.version} | {sys.base_prefix} | {ROOT}".replace("\n", " ")


def contents() -> str:
    """Hash the files that say what is installed."""
    digest = hashlib.sha256()
    for path in WISHES:
        digest.update(path.read_bytes() + b"\0")
    return digest.hexdigest()


def same_place(stamp: list[str]) -> bool:
    """Say whether the environment that stands here was made by this interpreter for this folder."""
    if not PYTHON.exists():
        return False
    if stamp:
        return stamp[0] == place()
    # Made by hand: good if its interpreter runs and is of this version.
    answer = subprocess.run(
        [PYTHON, "-c", "import sys; print(sys.version)"], capture_output=True, check=False
    )
    return answer.stdout.decode().strip() == sys.version


def pip() -> list[str]:
    """Give the command that installs into the environment: its own pip, else this interpreter's."""
    own = subprocess.run([PYTHON, "-c", "import pip"], capture_output=True, check=False)
    if own.returncode == 0:
        return [str(PYTHON), "-m", "pip"]
    return [sys.executable, "-m", "pip", "--python", str(PYTHON)]


def make_venv() -> None:
    """Make the environment anew, or leave with one line when this Python cannot."""
    ensurepip = importlib.util.find_spec("ensurepip") is not None
    if not ensurepip and importlib.util.find_spec("pip") is None:
        sys.exit(
            f"run.py: {sys.executable} has neither pip nor ensurepip, so nothing can be installed; "
            "add one (Debian, Ubuntu: apt install python3-venv) and run this again."
        )
    say(f"making {VENV}")
    venv.EnvBuilder(clear=True, symlinks=os.name != "nt", with_pip=ensurepip).create(VENV)


def install() -> None:
    """Install the package from this working tree, with the pinned versions."""
    say("installing Speedloom and its pinned parts (a minute or two the first time)")
    started = time.monotonic()
    command = [*pip(), "install", "--quiet", "--disable-pip-version-check"]
    command += ["--constraint", "constraints.txt", "--editable", ".[dev]"]
    if subprocess.run(command, cwd=ROOT, check=False).returncode:
        sys.exit("run.py: the installation failed; pip's own words are above.")
    say(f"installed in {time.monotonic() - started:.0f} s")


def ensure_environment() -> None:
    """Make or renew the environment, unless its stamp says that nothing has changed."""
    stamp = STAMP.read_text(encoding="utf-8").splitlines() if STAMP.exists() else []
    wanted = [place(), contents()]
    if stamp == wanted and PYTHON.exists():
        return
    inside = Path(sys.prefix).resolve() == VENV.resolve()
    if not inside and not same_place(stamp):
        make_venv()
    install()
    STAMP.write_text("\n".join(wanted) + "\n", encoding="utf-8")


def become(*arguments: str) -> None:
    """Go on as the environment's Python: a child would be orphaned when this process is stopped."""
    command = [str(PYTHON), *arguments]
    if os.name == "nt":  # there execv returns to the shell at once
        sys.exit(subprocess.run(command, check=False).returncode)
    os.execv(PYTHON, command)  # noqa: S606 -- fixed program, no shell wanted


def runs(browser: str) -> bool:
    """Say whether a browser starts: some systems have a stand-in that only says how to get one."""
    if os.name == "nt":  # there it would open a window
        return True
    try:
        answer = subprocess.run([browser, "--version"], capture_output=True, check=False, timeout=60)
    except (OSError, subprocess.TimeoutExpired):
        return False
    return answer.returncode == 0


def installed_browser() -> str | None:
    """Find Chromium, Chrome or Edge on this machine, else the one that Playwright has fetched."""
    named = [shutil.which(name) for name in BROWSERS]
    known = [os.path.expandvars(place) for place in BROWSER_PLACES]
    for path in [path for path in (*named, *known) if path and Path(path).exists()]:
        if runs(path):
            return path
    if not PYTHON.exists():
        return None
    answer = subprocess.run([PYTHON, "-c", OWN_BROWSER], capture_output=True, text=True, check=False)
    path = answer.stdout.strip()
    return path if path and Path(path).exists() else None


def debian_root() -> bool:
    """Say whether packages of Debian or Ubuntu may be installed without asking."""
    return hasattr(os, "geteuid") and os.geteuid() == 0 and shutil.which("apt-get") is not None


def do(command: list[str], *, why: str) -> None:
    """Run a command that installs something, and say so first."""
    say(f"{why}: {' '.join(command)}")
    quiet = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
    subprocess.run(command, env=quiet, stdout=subprocess.DEVNULL, check=False)


def installations() -> list[list[list[str]]]:
    """List the ways to a browser: commands that belong together, the better way first."""
    fetch = [str(PYTHON), "-m", "playwright", "install"]
    if not debian_root():
        return [[[*fetch, "chromium"]]]
    wanted = [*APT, *WANTED, "chromium", "fonts-liberation"]
    return [[[*APT, "update"], wanted], [[*fetch, "--with-deps", "chromium"]]]


def ensure_browser() -> str:
    """Give the browser of the tests: the one that is there, else one installed now, else leave."""
    browser = installed_browser()
    for commands in installations() if browser is None and PYTHON.exists() else ():
        for command in commands:
            do(command, why="the tests need a browser")
        browser = installed_browser()
        if browser:
            break
    if browser is None:
        sys.exit(
            "run.py: the tests need Chromium, Chrome or Edge, and none was found or could be installed; "
            "install one (Debian: apt install chromium) and run this again."
        )
    return browser


def ensure_postgres() -> None:
    """Have PostgreSQL for the half of the tests that runs on it; without it say that this half is not run."""
    sys.path.insert(0, str(ROOT / "tests"))
    postgres = importlib.import_module("postgres")
    if postgres.programs() is None and debian_root():
        for command in ([*APT, "update"], [*APT, *WANTED, "postgresql"]):
            do(command, why="half of the site's tests run on PostgreSQL")
    if postgres.programs() is not None:
        return
    missing = "PostgreSQL was not found, so its half of the site's tests is not run"
    if "CI" in os.environ:
        sys.exit(f"run.py: {missing}; where changes are tested it must be there (apt install postgresql).")
    say(f"{missing}; the same tests run on SQLite.")


def check() -> bool:
    """Run every check side by side, all of them even when one fails, and say whether all are good."""
    started = time.monotonic()
    running: list[tuple[str, subprocess.Popen[str]]] = []
    try:
        for name, arguments in CHECKS.items():
            command, pipe = [str(PYTHON), *arguments], subprocess.PIPE
            running.append((name, subprocess.Popen(command, stdout=pipe, stderr=pipe, text=True)))
        good = [checked(name, process, since=started) for name, process in running]
        return all(good)
    finally:
        for _, process in running:  # a stopped run.py takes the tools it waits for with it
            process.kill()


def checked(name: str, process: subprocess.Popen[str], *, since: float) -> bool:
    """Wait for a check, say how it went, and print its own words where it found faults."""
    out, err = process.communicate()
    word = "FAILED" if process.returncode else "ok"
    say(f"{name}: {word} (after {time.monotonic() - since:.1f} s)")
    if process.returncode:
        print(out + err, flush=True)
    return process.returncode == 0


def served() -> list[str]:
    """Have the demo served and opened where somebody sits before it; elsewhere it ends when all is made."""
    return ["--serve"] if sys.stdin.isatty() and sys.stdout.isatty() and "CI" not in os.environ else []


def main(arguments: list[str]) -> None:
    """Run one of the three commands."""
    command, rest = (arguments[0], arguments[1:]) if arguments else ("", [])
    if command not in {"demo", "test", "check"}:
        sys.exit(USAGE)
    if sys.version_info < (3, 11):  # noqa: UP036 -- the very thing it is to say
        sys.exit(f"run.py: Speedloom needs Python 3.11 or newer, this is {sys.version.split()[0]}.")
    # A stopped run.py takes the tool it waits for with it.
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))
    os.chdir(ROOT)
    ensure_environment()
    if command == "demo":
        become("-m", "speedloom", "demo", *(rest or served()))
    if command == "test":  # before the checks: who has no browser learns it at once
        os.environ["SPEEDLOOM_BROWSER"] = ensure_browser()
        ensure_postgres()
    if not check():
        sys.exit("run.py: the checks found faults, see above.")
    if command == "test":
        say("pytest")
        become(*TESTS, *(rest or (DOCS_STAND,)))


if __name__ == "__main__":
    try:
        main(sys.argv[1:])
    except KeyboardInterrupt:
        sys.exit(130)
