"""Editions: what a market prints otherwise, and a recipe in its words."""
