"""What an amount is and what it weighs: units, exact quantities, the larder. Every stage uses it."""
