"""(runout)"""
