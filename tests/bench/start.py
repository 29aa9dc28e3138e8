# ruff: noqa: T201 - a script that prints
"""How long commands take to start, beside a bare Python in the same run.

    python -m tests.bench.start

Prints the least processor time of several starts as a ratio to that of `python -c pass`.
"""

import os
import subprocess
import sys

ROUNDS = 5
AIMS = {
    ("-m", "scorer", "--version"): 6,
    ("-m", "scorer", "--help"): 6,
    ("-m", "scorer", "rules"): 10,
    ("-m", "scorer", "rules", "festival"): 10,
    ("-m", "scorer", "manual"): None,
    ("-m", "scorer", "desk", "--help"): None,
    ("-m", "scorer", "score", "--help"): None,
    ("-c", "import scorer"): None,
}
"""What each start may take at most, as a ratio; None where there is no aim."""


def spent(words):
    """Return the least processor time of some starts, seconds."""
    times = []
    for _ in range(ROUNDS):
        before = os.times()
        subprocess.run([sys.executable, *words], stdout=subprocess.DEVNULL, check=True)
        after = os.times()
        times.append(
            after.children_user
            - before.children_user
            + after.children_system
            - before.children_system
        )
    return min(times)


def report():
    """Print one line for each start."""
    bare = spent(("-c", "pass"))
    print(f"bare Python {bare:.3f} s")
    for words, aim in AIMS.items():
        most = "" if aim is None else f", at most {aim}"
        print(f"{' '.join(words):30} {spent(words) / bare:5.1f} times{most}")


if __name__ == "__main__":
    report()
