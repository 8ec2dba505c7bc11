"""A formula and its water: what a trial changes, what food holds, what could be changed next."""
