"""The house style applied to a recipe file: no number is touched, and nothing outside a change."""
