"""cardsmith: recipe → check → rewrite → render."""
