"""(scale)"""
