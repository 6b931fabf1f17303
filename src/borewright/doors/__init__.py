"""What the command line and the Python door share: finding a file's tables, answering, saving.

No physics and no shapes: each function reads input, calls one room and shows what came back.
"""

__all__: list[str] = []
