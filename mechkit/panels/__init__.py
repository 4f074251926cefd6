"""Panels: a picture, one plain sentence, and the few controls that move them.

======== ==================================================================================
controls what may be set: sliders in SI, choices, switches, in groups
panel    controls -> state -> picture and sentence; no widget, no browser
live     the same on the screen: ipywidgets, one output, nothing queued
dress    the panel's clothes: CSS in the house style
======== ==================================================================================

Every other file holds the panel of one topic and has a ``show()``.
"""
