"""Twins of the chapter on wheels."""

from mechkit.derivations import offered

__getattr__ = offered(__name__)
