"""Engineering notebook kit for the drive of a small brass steam locomotive."""

from mechkit import moved

__version__ = "0.2.0"

moved.serve()
