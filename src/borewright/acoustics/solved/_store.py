"""Answers kept on disk under the hash of their question, as small JSON files.

A damaged entry is as good as none; an unwritable folder costs the time of solving again.
"""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

from borewright.errors import ModelError


def entry_path(folder: str, question: dict[str, Any]) -> Path:
    """Where the answer to a question is kept."""
    # Read here: the folder is looked up when it is used, and the module loads a compiler.
    from borewright.acoustics.compilation import cache_folder

    return cache_folder() / folder / f"{_digest(question)}.json"


def remember(folder: str, question: dict[str, Any], answer: dict[str, Any]) -> None:
    """Keep an answer, if there is somewhere to keep it."""
    from borewright.model import write_text

    entry = {"question": question, "answer": answer, "digest": _digest(answer)}
    try:
        write_text(entry_path(folder, question), json.dumps(entry, indent=1) + "\n")
    except ModelError:
        return  # nowhere to keep it: the result itself is sound


def recalled(folder: str, question: dict[str, Any]) -> dict[str, Any] | None:
    """The answer that was kept, or None where there is no sound one."""
    try:
        entry = json.loads(entry_path(folder, question).read_text(encoding="utf-8"))
        answer = entry["answer"]
        sound = entry["digest"] == _digest(answer) and entry["question"] == question
    except (OSError, ValueError, KeyError, TypeError):
        return None
    return answer if sound and isinstance(answer, dict) else None


def _digest(content: dict[str, Any]) -> str:
    text = json.dumps(content, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()[:40]
