"""One recipe on the web: its page, a fragment, its photo, its data."""
