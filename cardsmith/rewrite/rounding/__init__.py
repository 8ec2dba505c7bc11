"""Which number prints: candidates on the ladders, and the choice among them."""
