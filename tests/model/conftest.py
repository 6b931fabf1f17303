"""An invented two-part instrument with an owner's comments, and small helpers."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from borewright.errors import ModelError
from borewright.model import Instrument, load

SHORT_CLARINET = """\
# An invented short clarinet.
format = 2

[instrument]
name = "Short clarinet"   # the owner's words
invented = true

[pitch]
a4_hz = 442
written_to_sounding_semitones = -2

# The barrel was turned on a Tuesday.
[[part]]
name = "barrel"
length_mm = 65.0   # measured twice
bore = [
    [0, 15.0],     # top
    [65, 14.85],   # bottom
]
outside = [[0, 31.0], [32.5, 34.0], [65, 31.0]]
socket_bottom = { depth_mm = 16.4, diameter_mm = 22.7 }

# ---- Joint ----

[[part]]
name = "joint"
bore = [[0, 14.95], [20, 14.85], [180, 14.65]]
length_mm = 180   # key order is the owner's
outside = [[0, 29.6], [180, 29.6]]
tenon_top = { length_mm = 16.0, diameter_mm = 22.2, cork_length_mm = 10.0, cork_depth_mm = 1.0 }

# The vent, lined with a tube.
[[part.hole]]
name = "RV"
station_mm = 13.0
bearing_deg = 180
diameter_mm = 3.0
into_bore_mm = 3.0
cover = "pad"
pad = { diameter_mm = 9.0, lift_mm = 1.5, rest = "closed" }

# Left first finger.
[[part.hole]]
name = "L1"
station_mm = 111.5   # to the centre
diameter_mm = 6.2
cover = "ring"

# Left second finger.
[[part.hole]]
name = "L2"
station_mm = 139.5
diameter_mm = 6.6
undercut = { diameter_mm = 7.4, depth_mm = 2.0 }

# The end of the file.
"""


@pytest.fixture
def clarinet_text() -> str:
    return SHORT_CLARINET


@pytest.fixture
def clarinet_file(tmp_path: Path) -> Path:
    path = tmp_path / "clarinet.toml"
    path.write_text(SHORT_CLARINET, encoding="utf-8")
    return path


@pytest.fixture
def clarinet(clarinet_file: Path) -> Instrument:
    return load(clarinet_file)


@pytest.fixture
def refused(tmp_path: Path) -> Callable[..., ModelError]:
    """The one ModelError that an altered instrument file gets; it must be a whole message."""

    def try_it(old: str, new: str, text: str = SHORT_CLARINET) -> ModelError:
        assert old in text
        path = tmp_path / "clarinet.toml"
        path.write_text(text.replace(old, new, 1), encoding="utf-8")
        with pytest.raises(ModelError) as caught:
            load(path)
        error = caught.value
        assert str(path) in str(error)
        assert error.cause
        assert str(error.remedy).endswith(".")
        assert "\n" not in str(error)
        assert len(str(error)) < 600
        return error

    return try_it
