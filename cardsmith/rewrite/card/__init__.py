"""The whole card in both systems."""
