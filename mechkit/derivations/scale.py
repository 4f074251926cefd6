"""(scale, derived)"""
