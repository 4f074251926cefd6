"""(alignment, derived)"""
