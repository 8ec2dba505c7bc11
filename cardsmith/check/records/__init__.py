"""What a card must carry, and what stands beside it: trials, corrections, portions."""
