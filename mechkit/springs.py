"""(springs)"""
