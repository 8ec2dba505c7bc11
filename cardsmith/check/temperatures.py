"""Checks of temperatures."""
