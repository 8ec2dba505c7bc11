"""What is printed, read again as a reader reads it, and held against what the author wrote."""
