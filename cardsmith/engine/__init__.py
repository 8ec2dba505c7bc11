"""From recipes to files under build/: what to make again, jobs, workers, what was read and written."""
