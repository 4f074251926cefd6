"""Pictures of the drive: to scale, on paper or slate, moved by numbers.

========== ==================================================================================
style      the look: paper, ink, palette with fixed meanings, section lining, type
shapes     outlines as plain points: rings, bars, gears, springs, wheels
shop       marks that move: outlines, sections, dimensions, center lines, balloons, leaders
layout     the sheet: axes to scale, fields for curves, notes, title block, key
picture    what stands is drawn once, what moves is drawn over it; a JPEG live, a PNG to keep
========== ==================================================================================

Every other file holds the pictures of one topic.  Lengths are in meters, as everywhere.
"""
