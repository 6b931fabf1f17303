"""``python -m borewright`` is the command ``borewright``."""

from borewright.entry import main

if __name__ == "__main__":
    main()
