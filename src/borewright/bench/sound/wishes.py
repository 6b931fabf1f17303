"""What is chosen for listening and blending, kept in the folder's settings for the next time."""

from __future__ import annotations

from dataclasses import asdict, dataclass

from borewright.bench.page import Page
from borewright.bench.workbench import Workbench
from borewright.model.bores import FEATURES

_KEY = "sound"
_MOST_LETTERS = 400


@dataclass(frozen=True)
class SoundWishes:
    """Keys of :mod:`others`, notes as typed, and the other's share of every feature (percent)."""

    listen_against: str = ""
    listen_notes: str = ""
    blend_with: str = ""
    shares: tuple[int, ...] = (50,) * len(FEATURES)


def wishes_of(bench: Workbench) -> SoundWishes:
    """The choices kept; what cannot be one goes back to the usual."""
    kept = bench.settings.get(_KEY)
    data = kept if isinstance(kept, dict) else {}
    return SoundWishes(
        listen_against=_words(data.get("listen_against")),
        listen_notes=_words(data.get("listen_notes")),
        blend_with=_words(data.get("blend_with")),
        shares=_shares(data.get("shares")),
    )


def _words(value: object) -> str:
    return value[:_MOST_LETTERS] if isinstance(value, str) else ""


def _shares(value: object) -> tuple[int, ...]:
    given = value if isinstance(value, list | tuple) else ()
    whole = tuple(max(0, min(100, each)) for each in given if isinstance(each, int))
    return whole if len(whole) == len(given) == len(FEATURES) else SoundWishes().shares


def keep(page: Page, **changes: object) -> None:
    """Keep a choice for the next time."""
    now = {**asdict(wishes_of(page.workbench)), **changes}
    page.save(lambda: page.workbench.set_setting(_KEY, now, page))
