"""What can harm: hazards, how food is kept and put up, methods that no caution can mend."""
