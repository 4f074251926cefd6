"""(fits, derived)"""
