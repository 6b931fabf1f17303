"""Writing a fingering table, for a revision whose leaks are open holes."""

from __future__ import annotations

import io
from pathlib import Path

from borewright.model import FingeringTable, write_text
from borewright.model.files.tables import TableWriter


def write_fingerings(table: FingeringTable, path: Path | str) -> None:
    """Write a fingering table as CSV, atomically; ``model.read_fingerings`` reads it back."""
    text = io.StringIO()
    text.write("# format = 1\n")
    writer = TableWriter(text)
    writer.writerow(["written", "register", "open_holes", "use", "label", "resonance", "comment"])
    for each in table.fingerings:
        writer.writerow(
            [
                each.written,
                each.register_.value,
                " ".join(each.open_holes),
                each.use.value,
                each.label,
                each.resonance or "",
                each.comment,
            ]
        )
    write_text(path, text.getvalue())
