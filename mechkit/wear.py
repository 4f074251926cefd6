"""(wear)"""
