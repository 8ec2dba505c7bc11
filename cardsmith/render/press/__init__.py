"""The press file: PDF/X-4 in inks, and its preflight."""
