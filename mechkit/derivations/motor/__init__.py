"""Twins of the chapter on motors."""

from mechkit.derivations import offered

__getattr__ = offered(__name__)
