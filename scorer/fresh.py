"""Fresh programs of our own: the window, and what sets long papers."""

import os
import sys


def surroundings() -> dict[str, str]:
    """Return the environment of a Python that finds modules where this one does.

    And nowhere else: what lies in the folder in which somebody stands is no part of it.
    """
    known = os.pathsep.join(path for path in sys.path if path)
    return {**os.environ, "PYTHONPATH": known, "PYTHONSAFEPATH": "1"}
