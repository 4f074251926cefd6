"""(motor, derived)"""
