"""Commands that put finished cards on paper for somebody else: proofs, sheets, booklets, hand-overs."""
