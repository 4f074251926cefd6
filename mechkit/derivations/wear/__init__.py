"""Twins of the chapter on wear."""

from mechkit.derivations import offered

__getattr__ = offered(__name__)
