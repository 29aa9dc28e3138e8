# ruff: noqa: T201 - a script that prints
"""How many small faults in the sums the tests would notice, of a seeded sample.

    python -m tests.bench.mutants points --sample 40 --seed 1

Changes one operator, comparison, number or condition in a module at a time and runs the
tests that belong to it.  A mutant that no test notices is printed with its line: either
it changes nothing that anybody could see, or a test is missing.  Each runs in a process
forked off one in which all is imported, its code put into the living functions.
"""

import argparse
import ast
import copy
import importlib
import inspect
import os
import random
import signal
import sys
import time
from types import FunctionType

import pytest

SUITES = {
    "standings": (
        "scorer.scoring.standings",
        ("scoring/test_standings.py", "scoring/test_by_result.py", "test_verify.py"),
    ),
    "points": (
        "scorer.scoring.points",
        ("scoring/test_points.py", "scoring/test_ties.py", "scoring/test_oracle.py"),
    ),
    "plane": (
        "scorer.geodesy.plane",
        ("geodesy/test_plane.py", "geodesy/test_site.py", "geodesy/test_survey.py"),
    ),
    "floor": ("scorer.checks.floor", ("checks/test_floor.py",)),
    "resolve": (
        "scorer.ledger.resolve",
        ("ledger/test_merging.py", "ledger/test_replay.py"),
    ),
}
SWAPS = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Div,
    ast.And: ast.Or,
    ast.Or: ast.And,
}
OTHER = {"min": "max", "max": "min", "any": "all", "all": "any"}
KILLED, ALIVE = 1, 0


def changes(node):
    """Yield functions that change a copy of a node, each in one way."""
    if isinstance(node, ast.BinOp | ast.BoolOp) and type(node.op) in SWAPS:
        yield lambda n: setattr(n, "op", SWAPS[type(n.op)]())
    if isinstance(node, ast.Compare):
        for index, op in enumerate(node.ops):
            if type(op) in SWAPS:
                yield lambda n, i=index: n.ops.__setitem__(i, SWAPS[type(n.ops[i])]())
    if isinstance(node, ast.If | ast.IfExp):
        yield lambda n: setattr(n, "test", ast.UnaryOp(op=ast.Not(), operand=n.test))
    if isinstance(node, ast.Constant) and isinstance(node.value, bool):
        yield lambda n: setattr(n, "value", not n.value)
    elif isinstance(node, ast.Constant) and isinstance(node.value, int | float):
        yield lambda n: setattr(n, "value", n.value + 1)
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub | ast.Not):
        drop = ast.UAdd if isinstance(node.op, ast.USub) else None
        double = ast.UnaryOp(op=ast.Not(), operand=node.operand)
        if drop is None:
            yield lambda n: setattr(n, "operand", copy.deepcopy(double))
        else:
            yield lambda n: setattr(n, "op", ast.UAdd())
    if isinstance(node, ast.Name) and node.id in OTHER:
        yield lambda n: setattr(n, "id", OTHER[n.id])


def mutants(tree):
    """Yield (line, what was there, mutated tree) of all that may be changed in bodies."""
    within = {
        id(inner)
        for outer in ast.walk(tree)
        if isinstance(outer, ast.FunctionDef)
        for part in outer.body
        for inner in ast.walk(part)
    }
    nodes = [n for n in ast.walk(tree) if id(n) in within]
    places = {id(n): i for i, n in enumerate(ast.walk(tree))}
    for node in nodes:
        for change in changes(node):
            other = copy.deepcopy(tree)
            same = list(ast.walk(other))[places[id(node)]]
            before = ast.unparse(same)
            change(same)
            told = f"{before}  →  {ast.unparse(same)}"
            yield getattr(node, "lineno", 0), told, ast.fix_missing_locations(other)


def living(module):
    """Return each function and method of a module by its qualified name."""
    found = {}
    for value in [*vars(module).values()]:
        own = [value]
        if inspect.isclass(value):
            own = [getattr(v, "fget", None) or v for v in vars(value).values()]
        for one in own:
            plain = inspect.unwrap(getattr(one, "__func__", one)) if one else one
            if isinstance(plain, FunctionType) and plain.__module__ == module.__name__:
                found[plain.__qualname__] = plain
    return found


def put_in(module, tree):
    """Give the living functions of a module the code of a mutated one."""
    own = living(module)

    def walk(code):
        for const in code.co_consts:
            if hasattr(const, "co_qualname"):
                target = own.get(const.co_qualname)
                if target is not None:
                    target.__code__ = const
                else:
                    walk(const)

    walk(compile(tree, module.__file__, "exec"))


def run(tests, quiet):
    """Run tests in this process; return pytest's exit status."""
    if quiet:
        null = os.open(os.devnull, os.O_WRONLY)
        os.dup2(null, 1)
        os.dup2(null, 2)
    return int(
        pytest.main(["-x", "-q", "-p", "no:cacheprovider", "-p", "no:xdist", *tests])
    )


def survives(module, tree, tests, limit_s):
    """Tell whether a mutant passes all tests; one that never ends does not."""
    child = os.fork()
    if child == 0:
        signal.alarm(int(limit_s))
        try:
            put_in(module, tree)
            status = run(tests, quiet=True)
        except BaseException:  # noqa: BLE001 - whatever it raises, it is noticed
            status = KILLED
        os._exit(ALIVE if status == 0 else KILLED)
    return os.waitpid(child, 0)[1] == 0


def main():
    """Measure one module."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("suite", choices=SUITES)
    parser.add_argument("--sample", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    name, files = SUITES[given.suite]
    tests = [f"tests/scorer/{file}" for file in files]
    begun = time.monotonic()
    if run(tests, quiet=False):
        sys.exit("the tests fail without any mutant")
    limit_s = 20 + 5 * (time.monotonic() - begun)
    module = importlib.import_module(name)
    tree = ast.parse(inspect.getsource(module))
    every = list(mutants(tree))
    chosen = random.Random(given.seed).sample(every, min(given.sample, len(every)))
    alive = []
    for line, told, mutated in sorted(chosen, key=lambda m: m[0]):
        if survives(module, mutated, tests, limit_s):
            alive.append((line, told))
            print(f"{name}:{line}: {told}", flush=True)
    share = 100 * (1 - len(alive) / len(chosen))
    print(f"{name}: {len(chosen) - len(alive)} of {len(chosen)} noticed, {share:.0f} %")


if __name__ == "__main__":
    main()
