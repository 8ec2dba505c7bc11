"""The console script, and ``python -m cardsmith``: where a command begins, and may be broken off at once."""

import gc
import sys

NEW_OBJECTS = 300_000  # before cycles are looked for: of one recipe there are fewer, and none to be found


def run() -> None:
    """Load the commands and run one; who breaks it off while it loads sees no trace."""
    gc.set_threshold(NEW_OBJECTS)
    try:
        from cardsmith.commands.main import main  # noqa: PLC0415

        code = main()
    except KeyboardInterrupt:
        sys.stderr.write("stopped\n")
        sys.exit(130)  # 128 and the number of the signal, as shells have it
    gc.freeze()  # else the interpreter looks for cycles in all that it is about to drop: a tenth of a command
    sys.exit(code)


if __name__ == "__main__":
    run()
