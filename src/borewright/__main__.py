"""``python -m borewright`` is the command ``borewright``."""

from borewright.cli import main

main()
