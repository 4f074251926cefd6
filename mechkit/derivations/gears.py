"""(gears, derived)"""
