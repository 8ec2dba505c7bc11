"""Lets the tests here share ``bench.py`` and ``cases.py``."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
