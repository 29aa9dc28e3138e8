"""Run the command line as `python -m scorer`."""

import sys

from scorer.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
