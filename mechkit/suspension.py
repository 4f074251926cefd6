"""(suspension)"""
