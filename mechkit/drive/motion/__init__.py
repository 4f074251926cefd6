"""The drive in time."""
