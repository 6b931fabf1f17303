"""Print which share of each room's lines the last test run reached.

python tools/coverage_by_room.py        # after pytest --cov
"""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path

from coverage import Coverage

SOURCE = Path(__file__).parents[1] / "src" / "borewright"


def main() -> None:
    """One line a room."""
    measured = Coverage()
    measured.load()
    lines, reached = defaultdict(int), defaultdict(int)
    for path in sorted(SOURCE.rglob("*.py")):
        room = path.relative_to(SOURCE).parts[0]
        _, wanted, _, missing, _ = measured.analysis2(str(path))
        lines[room] += len(wanted)
        reached[room] += len(wanted) - len(missing)
    print("lines reached by tests, by room")
    for room in sorted(lines):
        if lines[room]:
            print(f"  {room:16} {reached[room] / lines[room]:6.1%} of {lines[room]}")
    print(f"  {'all':16} {sum(reached.values()) / sum(lines.values()):6.1%}")


if __name__ == "__main__":
    main()
