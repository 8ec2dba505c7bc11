"""Lets the tests here share ``trial_samples.py``."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
