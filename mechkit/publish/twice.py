"""What is said in both systems of units, of which the page shows one."""

from collections.abc import Callable
from typing import get_args

from markupsafe import Markup, escape

from mechkit.units import System

SYSTEMS: tuple[System, ...] = get_args(System)


def both(ask: Callable[[System], object]) -> Markup:
    """What is asked, in both systems of units; once where they do not differ."""
    metric, inch = (escape(ask(system)) for system in SYSTEMS)
    if metric == inch:
        return metric
    return Markup('<span class="metric">{}</span><span class="inch">{}</span>').format(metric, inch)
