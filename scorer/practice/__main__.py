"""Make an invented meet of any size: `python -m scorer.practice --pilots 275 --out DIR`."""

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from scorer.errors import ScorerError
from scorer.practice.meet import make_meet, write_meet
from scorer.practice.scenes import SAMPLES, crowd


def main(arguments: Sequence[str] | None = None) -> int:
    """Make one meet; 0 = made, 2 = could not be made as asked."""
    asked = _parser().parse_args(arguments)
    try:
        if asked.sample:
            spec, seed = SAMPLES[asked.sample]
        else:
            seed = 1
            spec = crowd(
                pilots=asked.pilots,
                fixes=asked.fixes,
                sample_s=asked.interval,
                flights=asked.flights,
            )
        meet = make_meet(spec, seed if asked.seed is None else asked.seed)
        write_meet(meet, asked.out)
    except (ScorerError, OSError) as error:
        sys.stderr.write(f"{error}\n")
        return 2
    size = sum(len(content) for content in meet.files.values()) / 1e6
    sys.stdout.write(
        f"{spec.name}: {spec.pilots} pilots, {len(meet.files)} files, {size:.1f} MB "
        f"in {asked.out}\nAn invented meet; README.md there says what to do with it.\n"
    )
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m scorer.practice",
        description="Make an invented meet with a known answer, for practice.",
    )
    add = parser.add_argument
    add("--out", type=Path, required=True, help="folder to make; must not exist yet")
    add("--sample", choices=tuple(SAMPLES), help="one of the sample events")
    add("--pilots", type=int, default=40, help="how many (default 40)")
    add("--flights", type=int, default=1, help="how many, one task each (default 1)")
    add("--fixes", type=int, help="fixes per log (default: as the flight takes)")
    add("--interval", type=int, default=1, help="seconds between fixes (default 1)")
    add("--seed", type=int, help="another number gives another meet")
    return parser


if __name__ == "__main__":
    sys.exit(main())
