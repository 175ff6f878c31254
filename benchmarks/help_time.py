"""How long `speedloom --help` takes beside an empty Python, in one run. Wanted: at most 0.15 s.

`.venv/bin/python benchmarks/help_time.py [RUNS]`
"""

from __future__ import annotations

import platform
import statistics
import subprocess
import sys
import time

LIMIT_S = 0.15
COMMANDS = {
    "python -c pass": ("-c", "pass"),
    "speedloom --help": ("-m", "speedloom", "--help"),
    "speedloom plan --help": ("-m", "speedloom", "plan", "--help"),
}


def seconds(arguments: tuple[str, ...]) -> float:
    """Time one start of the interpreter."""
    started = time.perf_counter()
    subprocess.run([sys.executable, *arguments], capture_output=True, check=True)
    return time.perf_counter() - started


def main(runs: int) -> int:
    """Print medians and extremes; give 1 when help is slower than wanted."""
    print(f"{platform.machine()}, Python {platform.python_version()}, {runs} runs each")
    medians = {}
    for name, arguments in COMMANDS.items():
        seconds(arguments)  # the first start compiles and fills the caches
        times = [seconds(arguments) for _ in range(runs)]
        medians[name] = statistics.median(times)
        print(f"{name:<22} median {medians[name]:.3f} s, from {min(times):.3f} to {max(times):.3f} s")
    ratio = medians["speedloom --help"] / medians["python -c pass"]
    good = medians["speedloom --help"] <= LIMIT_S
    verdict = "kept" if good else "NOT KEPT"
    print(f"help is {ratio:.1f} times an empty Python; wanted at most {LIMIT_S} s: {verdict}")
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 20))
