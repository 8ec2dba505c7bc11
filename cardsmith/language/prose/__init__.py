"""Running text: its sentences, and what each numeral in them is."""
