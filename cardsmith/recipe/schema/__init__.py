"""The keys of the files that people write, declared once."""
