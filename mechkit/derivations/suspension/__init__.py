"""Twins of the chapter on suspension."""

from mechkit.derivations import offered

__getattr__ = offered(__name__)
