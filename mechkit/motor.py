"""(motor)"""
