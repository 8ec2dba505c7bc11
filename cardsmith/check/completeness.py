"""Checks of completeness."""
