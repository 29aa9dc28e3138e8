"""Change results.json at random and count what the second verifier finds.

    python -m tests.bench.altered results.json [CHANGES] [SEED] [--no-digests]

Each change is one of those that a slip or a hand makes: a number or text altered, a truth
turned round, a part taken out, doubled, swapped with its neighbour or emptied.  What is
missed is listed by its place.  `--no-digests` leaves the digests out, so that only sums,
places and agreements count: what a forger cannot mend by one hash.  `STANDS_ONCE` lists
what then nothing in the file can tell; a head or the event can (`sandtail verify` with
`--against` or `--with`).
"""

import copy
import random
import re
import sys
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

from scorer.errors import InputError
from scorer.verify import read_results, verify

Place = tuple[object, ...]
STANDS_ONCE: dict[str, str] = {
    "words that nothing is counted from": (
        r"caution|event\.(name|rule_book)|(.+\.)?(text|title|why|name|reason|rule|about)"
        r"|statements\.terms(\..+)?|matters\.\*\.(mark|acceptable|evidence(\.\*)?)"
    ),
    "remarks, times and order of rows": (
        r"entered\.(declarations|reports|rulings|targets|places|tasks)(\.\*(\.\w+)?)?"
        r"|tasks\.\*\.scores\.\*\.marks\.\*\.(keyings\.\*(\.fields\.\w+)?|time|sigma_m)"
    ),
    "which logs there were, and whose": r"flights\.\*\.(date|logs(\.\*(\.\w+)?)?)",
    "what a log shows, and how surely": (
        r"findings\.\*\.(lat|lon|sigma|measured|limit|duration_s|probability|says\..+)"
        r"|tasks\.\*\.scores\.\*\.sigma"
    ),
    "rules that nothing came of, systems": (
        r"tasks\.\*\.rules\.\w+|standings_rules\.\w+|entered\.reference_system"
    ),
    "order of what is told side by side": r"(matters|warnings)\.\*",
    "goals and gaps that steps tell": (
        r"tasks\.\*\.scores\.\*\.steps\.\*\.(means|why|entry)\..+"
    ),
}
"""What stands in one place alone, by its place: names, remarks and raw evidence."""


def place_of(path: Place) -> str:
    """Write a path with a star for each number in a list."""
    return ".".join("*" if isinstance(key, int) else str(key) for key in path)


def stands_once(path: Place) -> bool:
    """Tell whether a place is on the list of what nothing else in the file tells."""
    own = place_of(path)
    return any(re.fullmatch(pattern, own) for pattern in STANDS_ONCE.values())


def places(tree: object, at: Place = ()) -> Iterator[Place]:
    """Yield the path of every value below a tree."""
    inner = tree.items() if isinstance(tree, dict) else enumerate(tree)
    for key, value in inner:
        yield (*at, key)
        if isinstance(value, dict | list):
            yield from places(value, (*at, key))


def altered(value: object, dice: random.Random) -> object:
    """Return another value of the same kind, near it."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, int | Fraction):
        off = dice.choice((1, -1, 10, Fraction(1, 10), Fraction(-1, 4)))
        return value + (off if isinstance(value, Fraction) else int(off) or 1)
    if isinstance(value, str):
        if not value:
            return "x"
        at = dice.randrange(len(value))
        return (
            value[:at] + dice.choice("0179axZ") * dice.randint(1, 2) + value[at + 1 :]
        )
    if value is None:
        return dice.choice((0, 1, "x"))
    return type(value)()  # emptied


def change(tree: dict[str, object], dice: random.Random) -> tuple[str, Place] | None:
    """Change a tree in one place; None where the change changes nothing."""
    path = dice.choice(list(places(tree)))
    inside = tree
    for key in path[:-1]:
        inside = inside[key]  # type: ignore[assignment, index]
    key = path[-1]
    way = dice.choice(("alter", "alter", "alter", "drop", "double", "swap"))
    if isinstance(inside, list) and way in {"drop", "double", "swap"}:
        other = (key + 1) % len(inside)
        if way == "drop":
            del inside[key]
        elif way == "double":
            inside.insert(key, copy.deepcopy(inside[key]))
        elif inside[key] == inside[other]:
            return None
        else:
            inside[key], inside[other] = inside[other], inside[key]
        return way, path
    if way == "drop":
        del inside[key]
        return way, path
    before = inside[key]
    inside[key] = altered(before, dice)
    return None if inside[key] == before else ("alter", path)


def found(tree: dict[str, object], *, digests: bool) -> bool:
    """Tell whether the verifier notices anything."""
    try:
        return bool(verify(tree, digests=digests))
    except InputError:
        return True


def count(
    text: str, changes: int, seed: int, *, digests: bool = True
) -> tuple[int, list[tuple[str, Place]]]:
    """Return how many changes were found, and what was missed."""
    dice, noticed, missed = random.Random(seed), 0, []
    tree = read_results(text, "results.json")
    if not digests:
        del tree["digests"]
    done = 0
    while done < changes:
        own = copy.deepcopy(tree)
        made = change(own, dice)
        if made is None:
            continue
        done += 1
        if found(own, digests=digests):
            noticed += 1
        else:
            missed.append(made)
    return noticed, missed


def main() -> None:
    """Measure and print."""
    given = [word for word in sys.argv[1:] if not word.startswith("--")]
    text = Path(given[0]).read_text(encoding="utf-8")
    changes, seed = (int(n) for n in (*given[1:], "1000", "1")[:2])
    noticed, missed = count(text, changes, seed, digests="--no-digests" not in sys.argv)
    once = sum(stands_once(path) for _, path in missed)
    told = f"{changes} changes, {noticed} found, {len(missed)} missed"
    sys.stdout.write(f"{told}, {once} of them of what stands once\n")
    kinds = Counter(f"{way:7}{place_of(path)}" for way, path in missed)
    for kind, times in kinds.most_common():
        sys.stdout.write(f"{times:5}  {kind}\n")


if __name__ == "__main__":
    main()
