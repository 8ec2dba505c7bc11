"""Chosen cards bound into a booklet: its pages in order, and the same on sheets to fold."""
