"""What a publication is: its style, its files, and how one begins."""
