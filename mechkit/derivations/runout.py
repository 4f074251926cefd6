"""(runout, derived)"""
