"""What the steps do: deeds, pots and mixtures, and the heat that each food meets."""
