"""(springs, derived)"""
