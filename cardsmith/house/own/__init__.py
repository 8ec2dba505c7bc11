"""A house's own rows of our tables: how they are read, held to our rules, and added to."""
