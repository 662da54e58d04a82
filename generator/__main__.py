"""`bondwright`, and `python -m generator`."""

import signal
import sys


def main() -> int:
    """Run one command. Until the program is read, Ctrl-C ends it without a word."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    from .cli import main as run

    signal.signal(signal.SIGINT, signal.default_int_handler)
    return run()


if __name__ == "__main__":
    sys.exit(main())
