"""Words read: what each numeral of a text measures."""
