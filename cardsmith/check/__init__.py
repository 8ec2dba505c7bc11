"""Stage 2, check: a `Recipe` is read as a copy editor and a careful cook would; findings come out."""
