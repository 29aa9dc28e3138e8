"""Run the command line as `python -m scorer`."""

import sys

# Python looks first in the folder in which somebody stands: an event's may hold numpy.py.
if not sys.flags.safe_path and not __file__.startswith(sys.path[0]):
    del sys.path[0]

from scorer.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
