"""The method: its times, its signs, and what it must do for the dish to come about."""
