"""Phrases that the terminal and the paper share."""
