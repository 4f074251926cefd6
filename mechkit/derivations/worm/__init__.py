"""Twins of the chapter on worms."""

from mechkit.derivations import offered

__getattr__ = offered(__name__)
