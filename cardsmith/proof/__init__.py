"""Stage 4, proof: what was issued before, what changed since, and which trials bear the changes out."""
