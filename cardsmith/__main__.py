"""``python -m cardsmith``."""

from cardsmith.cli import run

run()
