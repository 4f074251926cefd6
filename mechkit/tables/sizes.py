"""Tables in size steps: which step a diameter falls in, and what stands there.

The property of such a row ends with its step, as ``3-6 mm`` or ``hole 0.12-0.24 in``.  A
step holds its upper end: 3 mm is in "up to 3".
"""

import re
from functools import cache

import numpy as np

from mechkit import check, tables

_STEP = re.compile(r"-(?P<end>[\d.]+) (?P<unit>mm|in)$")
_METERS = {"mm": 1e-3, "in": 0.0254}
#: A size this little over the end of a step is a rounding error, not a larger part.
SLACK = 1e-10


@cache
def steps(table, name, part=""):
    """Upper ends of the steps [m]; lowest and highest value in each, one row a step."""
    found = [
        row for row in tables.rows(table) if row.name == name and row.property.startswith(part)
    ]
    marks = [mark for row in found if (mark := _STEP.search(row.property))]
    ends = [float(mark["end"]) * _METERS[mark["unit"]] for mark in marks]
    return np.array(ends), np.array([(row.low, row.high) for row in found])


@cache
def grades():
    """Upper ends of the steps [m]; the tolerances of IT1 and up [m], one row a grade."""
    each = [steps("tolerance_grades", name) for name in tables.names("tolerance_grades")]
    return each[0][0], np.array([values[:, 0] for _, values in each])


def step(ends, diameter):
    """Number of the step that holds a diameter, or a refusal."""
    check.positive(diameter=diameter)
    check.up_to(0.0, ends[-1], diameter=diameter)
    return np.searchsorted(ends, np.asarray(diameter) - SLACK)
