"""Tables of fingerings for tubes, and air at rest."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import pytest

from borewright.model import Climate, Fingering, FingeringTable


@pytest.fixture(scope="session")
def still() -> Climate:
    """Dry air of one temperature, as textbooks have it."""
    return Climate(
        room_c=25,
        reed_end_c=25,
        relative_humidity=0,
        carbon_dioxide=0.0004,
        pressure_hpa=1013.25,
    )


@pytest.fixture(scope="session")
def tabled() -> Callable[..., FingeringTable]:
    """Maker of tables: (written note, register, open holes) a row."""

    def make(*rows: tuple[str, str, Sequence[str]]) -> FingeringTable:
        return FingeringTable(
            fingerings=[
                Fingering(written=note, register=register, open_holes=tuple(holes))
                for note, register, holes in rows
            ]
        )

    return make
