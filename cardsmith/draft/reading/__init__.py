"""Bytes of a draft, of whatever kind of file, to its lines: one reader a format."""
