"""(traction)"""
