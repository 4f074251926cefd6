"""(worm)"""
