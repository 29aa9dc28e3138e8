"""Set before numpy loads: one thread for linear algebra, as the program itself does."""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("OMP_NUM_THREADS", "1")
