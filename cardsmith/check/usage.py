"""Checks of usage."""
