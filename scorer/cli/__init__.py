"""The command line."""

import os

# Before numpy is loaded: threads of linear algebra only get in each other's way where
# logs are worked on side by side.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")
