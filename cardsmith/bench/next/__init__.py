"""The next trial: what the trials tell of the aim, which would tell most, and what one should give."""
