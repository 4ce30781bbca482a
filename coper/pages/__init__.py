"""Composing pages: what stands where, tiles, text and tables set in mm."""
