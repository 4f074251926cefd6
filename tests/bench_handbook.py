"""How fast the handbook is: ``python -m tests.bench_handbook``.

A sweep of a million points against one plain numpy pass over as many, a single call against
the formula with its checks of range only, and the import of one handbook file against
that of numpy.  It prints; it asserts nothing.
"""

import inspect
import subprocess
import sys
import timeit
from time import perf_counter

import numpy as np

from mechkit import fits, flywheel
from mechkit.derivations import TOPICS

POINTS = 1_000_000


def best(work, times=3):
    """The shortest of a few runs [s]."""
    took = []
    for _ in range(times):
        start = perf_counter()
        work()
        took.append(perf_counter() - start)
    return min(took)


def importing(module):
    """Time of a fresh interpreter that imports one module [s]."""
    return best(lambda: subprocess.run([sys.executable, "-c", f"import {module}"], check=True))


def main():
    outer = np.linspace(0.008, 0.020, POINTS)
    speed = np.linspace(100.0, 1500.0, POINTS)
    inertia = flywheel.ring_inertia(outer=outer, width=0.010, density=8490.0, bore=0.002)
    sweep = {
        "numpy, outer**4": lambda: outer**4,
        "ring_inertia": lambda: flywheel.ring_inertia(
            outer=outer, width=0.010, density=8490.0, bore=0.002
        ),
        "coast_time": lambda: flywheel.coast_time(
            inertia=inertia, speed=speed, torque=3e-4, damping=2e-7
        ),
        "interference_pressure": lambda: fits.interference_pressure(
            diameter=0.002,
            hub_outer=outer,
            diametral_interference=4e-6,
            hub_modulus=100e9,
            hub_poisson=0.34,
            shaft_modulus=207e9,
            shaft_poisson=0.29,
        ),
    }
    took = {name: best(work) for name, work in sweep.items()}
    plain = took["numpy, outer**4"]
    for name, seconds in took.items():
        print(f"{name:28} {seconds * 1e3:8.1f} ms {seconds / plain:6.1f}")
    disc = {"outer": 0.016, "width": 0.010, "density": 8490.0, "bore": 0.002}
    bare_formula = inspect.unwrap(flywheel.ring_inertia)
    ranges, whole = (
        min(timeit.repeat(lambda formula=formula: formula(**disc), number=10_000)) / 1e4
        for formula in (bare_formula, flywheel.ring_inertia)
    )
    print(f"{'one call of ring_inertia':28} {whole * 1e6:8.2f} us {whole / ranges:6.1f}")
    bare = importing("sys")
    modules = ["numpy", *(f"mechkit.{topic}" for topic in TOPICS)]
    took = {module: importing(module) - bare for module in modules}
    for module, seconds in took.items():
        print(f"import {module:21} {seconds * 1e3:8.1f} ms {seconds / took['numpy']:6.1f}")


if __name__ == "__main__":
    main()
