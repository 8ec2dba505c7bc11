"""Stage 3, rewrite: a sound `Recipe` becomes a `Card`, every number in both systems."""
