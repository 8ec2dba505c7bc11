"""All trials of a recipe side by side."""
