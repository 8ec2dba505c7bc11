"""One ingredient line: what it states, which food it names, what it leaves open."""
