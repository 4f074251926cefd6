"""(gears)"""
