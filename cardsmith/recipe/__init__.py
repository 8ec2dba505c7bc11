"""Stage 1, recipe: the author's YAML becomes a `Recipe`, and every fault of the file a finding."""
