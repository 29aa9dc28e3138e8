"""Rebuild the sample events from their seeds: `python sample_events/make.py [--check]`.

`--check` writes nothing; it compares what would be made with what is there, byte for
byte, and ends with 1 naming each file that differs.
"""

import argparse
import sys
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent))

from scorer.practice.meet import make_meet  # noqa: E402 - found through the line above
from scorer.practice.scenes import SAMPLES  # noqa: E402


def main(arguments: Sequence[str] | None = None) -> int:
    """Make or check every sample; 0 = well, 1 = something differs."""
    parser = argparse.ArgumentParser(description="Rebuild the sample events.")
    parser.add_argument("--check", action="store_true", help="compare, write nothing")
    parser.add_argument("--folder", type=Path, default=HERE, help=argparse.SUPPRESS)
    asked = parser.parse_args(arguments)
    lines = [
        line
        for name, (spec, seed) in SAMPLES.items()
        for line in _work(
            make_meet(spec, seed).files, asked.folder / name, check=asked.check
        )
    ]
    sys.stdout.writelines(f"{line}\n" for line in lines)
    if asked.check and lines:
        sys.stdout.write("Rebuild them with: python sample_events/make.py\n")
    return 1 if asked.check and lines else 0


def _work(files: Mapping[str, bytes], folder: Path, *, check: bool) -> Iterator[str]:
    """Yield a line for each file that differs, and unless checking put it right."""
    for name, content in files.items():
        path = folder / name
        there = path.read_bytes() if path.is_file() else None
        if there == content:
            continue
        yield f"{path}: {'missing' if there is None else 'differs'}"
        if not check:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        if path.is_file() and name not in files:
            yield f"{path}: not made by this program"
            if not check:
                path.unlink()
                _remove_empty(path.parent)


def _remove_empty(folder: Path) -> None:
    while not any(folder.iterdir()):
        folder.rmdir()
        folder = folder.parent


if __name__ == "__main__":
    sys.exit(main())
