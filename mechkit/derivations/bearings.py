"""(bearings, derived)"""
