"""What foods are: their names and roles, allergens, and the claims and diets they allow."""
