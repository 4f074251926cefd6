"""(wear, derived)"""
