"""Papers beside the card: the bench's sheets and report, the portion's page."""
