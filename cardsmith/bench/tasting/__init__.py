"""A tasting: who is served what, the ballots, and what the results bear out."""
