"""(bearings)"""
