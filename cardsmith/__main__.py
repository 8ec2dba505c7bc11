"""``python -m cardsmith``."""

from cardsmith.commands.main import run

run()
