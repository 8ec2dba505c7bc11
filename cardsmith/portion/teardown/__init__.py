"""A bought product taken apart: what its labels allow of each ingredient, and a first formula inside."""
