"""Print the lowest versions that pyproject.toml allows of what cardsmith imports, for pip to install."""

import re
import sys
import tomllib
from pathlib import Path

told = tomllib.loads((Path(__file__).parents[1] / "pyproject.toml").read_text("utf-8"))
names = [one.split(";")[0].strip() for one in told["project"]["dependencies"]]
sys.stdout.write("\n".join(re.sub(">=", "==", one) for one in names) + "\n")
