"""Which version of the program this is: the one place that says so."""

VERSION = "0.9.0"
"""Raise it whenever results may come out otherwise: publications keep the version that
computed them, and only so can a change of the program be told from altered evidence."""
PROGRAM = f"sandtail {VERSION}"
"""As publications keep it."""
FIRST_VERSION = "0.1.0"
"""That of publications which name none."""
