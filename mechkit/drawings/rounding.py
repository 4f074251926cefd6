"""Round ends for the fields of curves, whatever the size of the engine."""

import math

#: Steps in every decade, close enough that a curve fills its field, coarse enough to stand still.
STEPS = (1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)


def round_up(value, least, steps=STEPS):
    """The next round number that is at least the value, and at least ``least``.

    >>> round_up(61.0, 10.0), round_up(0.3, 1.0), round_up(1234.0, 1.0), round_up(8.0, 1.0)
    (80.0, 1.0, 1500.0, 8.0)
    """
    value = max(value, least)
    ten = 10.0 ** math.floor(math.log10(value))
    return float(next(ten * n for n in steps if ten * n >= value * (1 - 1e-9)))
