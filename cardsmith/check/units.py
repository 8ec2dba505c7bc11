"""Checks of units."""
