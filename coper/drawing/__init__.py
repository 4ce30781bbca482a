"""Marks in mm, and what works on them: bounds, clip, hatch, letters; the SVG and the PDF writer."""
