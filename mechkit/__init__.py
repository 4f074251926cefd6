"""Engineering notebook kit for the drive of a small brass steam locomotive."""

__version__ = "0.1.0"
