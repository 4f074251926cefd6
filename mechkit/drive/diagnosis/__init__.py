"""Recordings, shafts, orders and tests by hand."""
