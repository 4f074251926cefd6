"""(alignment)"""
