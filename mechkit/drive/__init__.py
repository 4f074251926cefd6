"""The drive as a whole: the bench sheet, the calibrated mechanism, every decision."""
