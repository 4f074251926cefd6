"""Readings into constants, with their bands."""
