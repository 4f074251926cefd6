"""Break the kit on purpose and count what the tests notice: ``python -m tests.mutants gears.mesh``.

``--every 4`` tries every fourth mutant only.  A file of the drive is named by its place,
``drive.model.coasting``; `QUICK` says which tests answer for it.

Needs ``pip install cosmic-ray``, whose operators make the mutants; to them comes one of our
own, a check taken away.  Doctests do not count: their numbers are the function's own output.
The tests of the topic are collected once; every mutant is a fork of that process, in which
the functions' code is exchanged, so that it costs tenths of a second.  POSIX only.
"""

import ast
import gc
import importlib
import inspect
import os
import re
import signal
from argparse import ArgumentParser
from functools import _lru_cache_wrapper
from time import process_time

import pytest
from hypothesis import HealthCheck, Phase, settings

#: Operators whose mutants are a TypeError on floats, or drawn at random.
_IDLE = re.compile(r"Bit|Shift|Invert|Variable|NoOp|ExceptionReplacer|_Is(Not)?($|_)")
_ALIKE = tuple(
    f"tests/test_{name}.py"
    for name in ("ledger", "derivations", "dimensions", "ranges", "arguments")
)
#: The tests that answer for a file of the drive.
QUICK = {
    "drive.model.body": ("placing", "choose", "elevation"),
    "drive.model.coasting": ("coasting", "coast"),
    "drive.model.drive": ("coasting", "hop", "thrust", "by_hand", "headlines", "choose", "ballast"),
    "drive.model.layout": ("placing", "rebuild", "choose", "elevation"),
    "drive.model.read": ("by_hand", "rebuild", "flywheel_sizing", "placing", "thrust"),
    "drive.model.spread": ("rebuild", "bands_hold", "written_spreads"),
    "drive.model.stack": ("placing", "choose", "elevation"),
    "drive.model.suspension": ("suspension_model",),
    "drive.model.train": ("train", "thrust", "idler", "mesh_runout", "by_hand", "headlines"),
    "drive.model.wearing": ("by_hand", "panel_wear", "rebuild"),
    "drive.constants.fitting": ("identify", "told", "headlines"),
    "drive.constants.identify": ("identify", "told", "disagrees"),
    "drive.constants.knowledge": ("headlines", "by_hand", "rebuild", "told"),
    "drive.constants.plan": ("headlines", "by_hand", "gains", "rebuild"),
    "drive.constants.readings": ("identify", "told", "by_hand"),
    "drive.constants.weighing": ("identify", "told", "headlines", "by_hand"),
    "drive.decisions.ballast": ("ballast",),
    "drive.decisions.bed": ("bed",),
    "drive.decisions.bowed_shim": ("worm_bearings",),
    "drive.decisions.cures": ("cures", "placing"),
    "drive.decisions.findings": ("by_hand", "rebuild", "turned", "cures"),
    "drive.decisions.fittings": ("by_hand", "rebuild", "turned", "trade_facts"),
    "drive.decisions.gains": ("gains",),
    "drive.decisions.ground_pin": ("ground_pin",),
    "drive.decisions.hub": ("hub",),
    "drive.decisions.pick_up": ("pick_up",),
    "drive.decisions.placing": ("placing", "rebuild", "by_hand"),
    "drive.decisions.pulses": ("pulses",),
    "drive.decisions.seat": ("seat",),
    "drive.decisions.worm_bearings": ("worm_bearings",),
    "drive.decisions.plan": ("by_hand", "rebuild", "turned", "cures", "thrust", "trade_facts"),
}
#: Seconds of the processor, not of the clock: a busy machine notices as much as an idle one.
LONG = 1.0  # tests that take longer are left out
LONGEST = 60  # a mutant that takes longer was noticed

settings.register_profile(
    "mutants",
    phases=(Phase.explicit, Phase.generate),
    derandomize=True,
    database=None,
    deadline=None,
    suppress_health_check=list(HealthCheck),
)


def mutants(source):
    """(line, what was done, mutated source) of every mutant."""
    # here, because pytest looks for doctests in this file where cosmic-ray need not be
    from cosmic_ray import plugins
    from cosmic_ray.ast import ast_nodes, get_ast
    from cosmic_ray.mutating import mutate_code

    tree, lines = get_ast(source), source.splitlines(keepends=True)
    for name in plugins.operator_names():
        if _IDLE.search(name):
            continue
        operator, occurrence = plugins.get_operator(name)(), 0
        for node in ast_nodes(tree):
            for start, _ in operator.mutation_positions(node):
                yield start[0], name.split("/")[1], mutate_code(source, operator, occurrence)
                occurrence += 1
    for node in ast.walk(ast.parse(source)):
        inside = isinstance(node, ast.Expr) and node.col_offset > 0
        if inside and ast.unparse(node).startswith("check."):
            rest = [*lines[: node.lineno - 1], " " * node.col_offset + "pass\n"]
            yield node.lineno, "check taken away", "".join([*rest, *lines[node.end_lineno :]])


def within(source, line):
    """The function or method in which a line stands."""
    found = "module"
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FunctionDef) and node.lineno <= line <= node.end_lineno:
            found = node.name
    return found


def functions(holder):
    """The plain functions that a module or class holds by name, out of whatever wraps them."""
    for name, held in list(vars(holder).items()):
        inner = held
        for wrap in ("fget", "func", "__func__", "__wrapped__"):
            inner = getattr(inner, wrap, None) or inner
        if inspect.isfunction(inner):
            yield name, inner


def exchange(module, source):
    """Give the functions of a module, wherever they are held, the code of another source."""
    fresh = type(module)(module.__name__)
    fresh.__file__ = module.__file__
    exec(compile(source, module.__file__, "exec"), vars(fresh))
    pairs = [(module, fresh)]
    pairs += [
        (held, vars(fresh)[name])
        for name, held in vars(module).items()
        if inspect.isclass(held) and held.__module__ == module.__name__
    ]
    for old, new in pairs:
        made = dict(functions(new))
        for name, plain in functions(old):
            if name in made and plain.__module__ == module.__name__ and plain.__closure__ is None:
                one = made[name]
                plain.__code__, plain.__kwdefaults__ = one.__code__, one.__kwdefaults__
                plain.__defaults__ = one.__defaults__
    for name, new in vars(fresh).items():
        if not name.startswith("__") and not callable(new) and not inspect.ismodule(new):
            module.__dict__[name] = new
    for one in gc.get_objects():  # what was worked out before the exchange
        if isinstance(one, _lru_cache_wrapper) and str(one.__module__).startswith("mechkit"):
            one.cache_clear()


class Hunt:
    """A pytest plugin that runs the collected tests once for every mutant."""

    def __init__(self, page, every):
        self.page, self.every = page, every
        self.module = importlib.import_module(f"mechkit.{page}")
        self.failed = False

    def pytest_collection_modifyitems(self, items):
        """Of the tests that hold all formulas alike, keep those of the chapter."""
        if self.page in QUICK:
            return
        mine = re.compile(rf"\[{self.page.partition('.')[0]}[.-]")
        items[:] = [
            item
            for item in items
            if not item.nodeid.startswith(_ALIKE)
            or (mine.search(item.nodeid) and "honest" not in item.name)
        ]

    def pytest_runtest_logreport(self, report):
        """Remember whether anything failed."""
        self.failed = self.failed or report.failed

    def notices(self, items):
        """Whether one of the tests fails."""
        self.failed = False
        for item in items:
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=None)
            if self.failed:
                return item.nodeid
        return ""

    def survives(self, items, source):
        """Run a mutant in a fork of this process."""
        child = os.fork()
        if not child:
            signal.setitimer(signal.ITIMER_PROF, LONGEST)
            os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
            try:
                exchange(self.module, source)
                os._exit(bool(self.notices(items)))
            finally:
                os._exit(1)
        return os.waitpid(child, 0)[1] == 0

    def pytest_runtestloop(self, session):
        """The sound handbook first, which also says which tests are quick; then every mutant."""
        took = {}
        for item in session.items:
            start = process_time()
            if self.notices([item]):
                pytest.exit(f"fails without a mutant: {item.nodeid}", 1)
            took[item] = process_time() - start
        quick = sorted((item for item in took if took[item] < LONG), key=took.get)
        source = inspect.getsource(self.module)
        if not self.survives(quick, source):
            pytest.exit("the sound handbook does not survive its own exchange", 1)
        every = sorted(mutants(source))[:: self.every]
        alive = 0
        for line, what, code in every:
            name = within(source, line)
            if self.survives(sorted(quick, key=lambda item: name not in item.nodeid), code):
                alive += 1
                said = source.splitlines()[line - 1].strip()
                print(f"\n  {self.page}:{line}: {name}: {what}: {said}", end="", flush=True)
        killed = len(every) - alive
        print(f"\n{self.page}: {killed} of {len(every)} noticed, {killed / len(every):.1%}")
        return True


if __name__ == "__main__":
    settings.load_profile("mutants")
    asked = ArgumentParser(description="Break the handbook on purpose.")
    asked.add_argument("pages", nargs="+")
    asked.add_argument("--every", type=int, default=1)
    given = asked.parse_args()
    for one in given.pages:
        held = QUICK.get(one, (one.replace(".", "_"),))
        files = [*(() if one in QUICK else _ALIKE), *(f"tests/test_{name}.py" for name in held)]
        plugin = Hunt(one, given.every)
        pytest.main(["-q", "-s", "--no-header", "--no-summary", *files], plugins=[plugin])
