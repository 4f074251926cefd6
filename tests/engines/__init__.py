"""Invented engines with physics of their own, the sheets a machinist would write, and a judge.

Nothing here knows the kit but `judge`: the truth is plain mechanics, written apart.
"""
