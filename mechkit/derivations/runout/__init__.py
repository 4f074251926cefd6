"""Twins of the chapter on runout."""

from mechkit.derivations import offered

__getattr__ = offered(__name__)
