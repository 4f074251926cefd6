"""(suspension, derived)"""
