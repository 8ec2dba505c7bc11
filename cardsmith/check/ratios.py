"""Checks of ratios."""
