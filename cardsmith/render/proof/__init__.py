"""The proof an editor signs: the card at size, what changed on it, every number."""
