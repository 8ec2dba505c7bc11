"""Sorted lines to a recipe file, with an account of every line."""
