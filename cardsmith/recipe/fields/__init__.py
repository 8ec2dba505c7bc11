"""What the text under a key means: a line of the list, a step, a yield, a time."""
