"""What chance makes of readings and of stacks (scipy.stats, random numbers)."""

import numpy as np
from scipy import stats
from scipy.optimize import minimize

#: Fine modules [mm] and diametral pitches [1/in] of the trade, written down again.
MODULES = [0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6, 0.7, 0.75, 0.8, 0.9, 1.0]
PITCHES = [120, 100, 96, 80, 72, 64, 60, 56, 50, 48, 42, 40, 32]


def _sizes():
    return np.array([m * 1e-3 for m in MODULES] + [0.0254 / p for p in PITCHES])


def identify(*, outside_diameter, teeth, uncertainty):
    """Modules, deviations and shares of the normal density, the largest share first."""
    sizes = _sizes()
    off = outside_diameter - (teeth + 2) * sizes
    log = stats.norm(scale=uncertainty / 2).logpdf(off)
    density = np.exp(log - log.max())
    order = np.argsort(-density)
    rows = np.column_stack([sizes, off, density / density.sum()])[order]
    return rows[rows[:, 2] > 0.001]


def identify_by_spans(*, outside_diameter, teeth, span, next_span, uncertainty):
    """Modules, pressure angles, deviations and shares; spans and diameter independent."""
    rows = []
    for size in _sizes():
        for angle in np.radians([14.5, 20.0]):
            off = outside_diameter - (teeth + 2) * size
            pitch = np.pi * size * np.cos(angle)
            readings = stats.multivariate_normal(
                mean=[off, pitch], cov=np.diag([1.0, 2.0]) * (uncertainty / 2) ** 2
            )
            rows.append([size, angle, off, readings.pdf([0.0, next_span - span])])
    rows = np.array(rows)
    rows[:, 3] /= rows[:, 3].sum()
    rows = rows[np.argsort(-rows[:, 3])]
    return rows[rows[:, 3] > 0.001]


def root_sum_square_stack(*, eccentricities):
    """Root mean square of a million stacks put together at random."""
    random = np.random.default_rng(7)
    angles = random.uniform(0, 2 * np.pi, (1_000_000, len(eccentricities)))
    return np.sqrt(np.mean(abs(np.exp(1j * angles) @ np.asarray(eccentricities)) ** 2))


def worst_case_stack(*, eccentricities):
    """Largest offset that turning the parts on one another can reach."""
    sizes = np.asarray(eccentricities)
    start = np.linspace(0.3, 1.5, len(sizes))
    found = minimize(
        lambda angles: -abs(np.exp(1j * angles) @ sizes) / sizes.max(), start, tol=1e-12
    )
    return -found.fun * sizes.max()
