"""The console script, and ``python -m cardsmith``: where a command begins, and may be broken off at once."""

import sys


def run() -> None:
    """Load the commands and run one; who breaks it off while it loads sees no trace."""
    try:
        from cardsmith.commands.main import run as command  # noqa: PLC0415

        command()
    except KeyboardInterrupt:
        sys.stderr.write("stopped\n")
        sys.exit(130)  # 128 and the number of the signal, as shells have it


if __name__ == "__main__":
    run()
