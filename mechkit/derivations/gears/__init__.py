"""Twins of the chapter on gears."""

from mechkit.derivations import offered

__getattr__ = offered(__name__)
