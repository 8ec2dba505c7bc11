"""Files read and written: plain files in their own folder only, and whole."""
