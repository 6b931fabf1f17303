"""Write constraints-oldest.txt: the oldest versions that pyproject.toml allows.

    python tools/oldest.py        # needs the package installer uv on the path

What Borewright needs at run time stands at its lower bound, as uv's resolver finds it together
with the rest; what only the tests need stays as constraints.txt has it.
"""

from __future__ import annotations

import re
import subprocess
import tempfile
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[1]
HEAD = "# The oldest releases that Borewright supports, for tests; written by tools/oldest.py.\n"


def pins(text: str) -> dict[str, str]:
    """Versions by name, as a constraints file has them."""
    lines = (line.split("#")[0].split(";")[0].strip() for line in text.splitlines())
    return {
        re.sub(r"[-_.]+", "-", name).lower(): f"{name}=={version}"
        for name, _, version in (line.partition("==") for line in lines if "==" in line)
    }


def test_tools() -> str:
    """Pins of what the extra ``test`` asks for, as constraints.txt has them."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = [
        re.sub(r"[-_.]+", "-", re.split(r"[\[<>=]", each)[0]).lower()
        for each in project["optional-dependencies"]["test"]
    ]
    newest = pins((ROOT / "constraints.txt").read_text(encoding="utf-8"))
    return "\n".join(newest[name] for name in wanted)


def main() -> None:
    """Resolve and write."""
    with tempfile.NamedTemporaryFile("w", encoding="utf-8", suffix=".txt") as tools:
        tools.write(test_tools())
        tools.flush()
        command = [
            "uv",
            "pip",
            "compile",
            "pyproject.toml",
            "--extra",
            "solve3d",
            "--extra",
            "cluster",
        ]
        command += ["--extra", "test", "--constraint", tools.name, "--no-annotate"]
        command += ["--no-header", "--resolution", "lowest-direct", "--python-version", "3.11"]
        done = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True)
    kept = sorted(pins(done.stdout).values(), key=str.lower)
    (ROOT / "constraints-oldest.txt").write_text(HEAD + "\n".join(kept) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
