"""(worm, derived)"""
