"""(fits)"""
