"""Twins of the chapter on fits."""

from mechkit.derivations import offered

__getattr__ = offered(__name__)
