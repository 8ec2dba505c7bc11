"""Which words of the steps speak of which line of the list."""
