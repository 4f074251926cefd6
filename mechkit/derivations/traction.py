"""(traction, derived)"""
