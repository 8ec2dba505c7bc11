"""The portion: what it costs, what it holds and what it must declare. Estimates from tables, never claims."""
