"""What may harm cook or eater, and the cautions that follow."""
