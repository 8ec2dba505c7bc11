"""A cross-test: what goes out, and the form that comes back."""
