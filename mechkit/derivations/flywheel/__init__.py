"""Twins of the chapter on flywheels."""

from mechkit.derivations import offered

__getattr__ = offered(__name__)
