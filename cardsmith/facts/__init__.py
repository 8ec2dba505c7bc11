"""What follows from the foods and the steps: what a food is, allergens, diets, heat, exposure, cautions."""
