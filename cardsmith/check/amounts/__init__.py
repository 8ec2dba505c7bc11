"""The lists: what they name, how much of it, and what steps, pans and yields make of it."""
