"""Spring formulas, derived."""
