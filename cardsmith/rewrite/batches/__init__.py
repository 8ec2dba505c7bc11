"""A recipe in other sizes."""
