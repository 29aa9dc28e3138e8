"""For all tests: one thread for linear algebra, set before numpy loads; no clock."""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")

from hypothesis import settings

settings.register_profile("sandtail", deadline=None)
settings.load_profile("sandtail")
