"""Geometry of each sketch, in metres, as frozen shapes. No SVG: templates draw them."""
