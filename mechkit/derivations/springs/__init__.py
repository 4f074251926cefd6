"""Twins of the chapter on springs."""

from mechkit.derivations import offered

__getattr__ = offered(__name__)
