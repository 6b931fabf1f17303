"""``--no-skips`` turns a skipped test into a failed one; without it a skip stays a skip."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

CONFTEST = Path(__file__).parents[1] / "conftest.py"

SKIPS = {
    "a mark": "import pytest\n@pytest.mark.skip(reason='why')\ndef test_a(): pass\n",
    "a call": "import pytest\ndef test_a(): pytest.skip('why')\n",
    "a module": "import pytest\npytest.importorskip('absent_library_of_no_name')\n",
}


def outcome(folder: Path, text: str, *options: str) -> tuple[int, str]:
    (folder / "conftest.py").write_text(CONFTEST.read_text(encoding="utf-8"), encoding="utf-8")
    (folder / "test_inner.py").write_text(text, encoding="utf-8")
    command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", *options, "."]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    return done.returncode, done.stdout


@pytest.mark.parametrize("kind", SKIPS)
def test_a_skip_fails_only_where_forbidden(tmp_path, kind):
    code, text = outcome(tmp_path, SKIPS[kind], "--no-skips")
    assert code not in (0, 5), text
    assert "which --no-skips forbids" in text
    code, text = outcome(tmp_path, SKIPS[kind])
    assert "1 skipped" in text


def test_the_closing_line_counts_what_passed(tmp_path):
    code, text = outcome(tmp_path, "def test_a(): pass\n", "--no-skips")
    assert code == 0
    assert text.strip().splitlines()[-1].startswith("1 passed")
