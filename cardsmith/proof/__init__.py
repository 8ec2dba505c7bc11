"""Beside the flow, proof: what was issued before, what changed since, which trials bear the changes out."""
