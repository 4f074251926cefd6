"""What leaves the kit: the build sheet, one file that opens anywhere, offline.

=========== =================================================================================
build_sheet the command: a bench sheet in, a build sheet out, whole or not at all
page        everything that the page says, gathered; the template sets it
verdict     what is wrong, what changes, what it gains: one sentence each
worklist    what to buy and what to do, in the order of the work
partial     what a sheet that says little is answered, and what would open more
unknowns    what was not measured, and what no computation can tell
=========== =================================================================================
"""
