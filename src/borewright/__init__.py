"""Borewright: from a survey of bought-in keywork to a printed woodwind that plays in tune.

A name loads its room when it is first used, so ``import borewright`` is light. The room
``borewright.fit`` is also the function of that name: ``borewright.fit(instrument)`` runs
:func:`borewright.doors.python.fit`.
"""

from __future__ import annotations

import sys
from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from borewright.acoustics import Air, input_impedance, resonances
    from borewright.acoustics.solved import HoleCover, HoleShape, solve_hole
    from borewright.doors.python import (
        character,
        differences,
        export_solids,
        fit,
        load,
        sensitivity,
        tuning,
    )
    from borewright.errors import (
        AcousticsError,
        BorewrightError,
        DocumentsError,
        FitError,
        LedgerError,
        ModelError,
        PlayingError,
        PrintingError,
        SolidsError,
    )
    from borewright.model import (
        BottomEnd,
        Climate,
        Cover,
        Finding,
        Fingering,
        FingeringTable,
        FitResult,
        FitWishes,
        Instrument,
        KeyworkSurvey,
        Mouthpiece,
        Pad,
        Part,
        PitchStandard,
        Reed,
        Register,
        Rest,
        SensitivityMap,
        Socket,
        SolidsReport,
        SurveyItem,
        SurveyRow,
        Tenon,
        ToneHole,
        TuningTable,
        Undercut,
        Use,
        read_fingerings,
        read_survey,
        save_as,
    )

    __version__: str

_WHERE = {
    "acoustics": ("Air", "input_impedance", "resonances"),
    "acoustics.solved": ("HoleCover", "HoleShape", "solve_hole"),
    "doors.python": (
        "character",
        "differences",
        "export_solids",
        "load",
        "sensitivity",
        "tuning",
    ),
    "errors": (
        "AcousticsError",
        "BorewrightError",
        "DocumentsError",
        "FitError",
        "LedgerError",
        "ModelError",
        "PlayingError",
        "PrintingError",
        "SolidsError",
    ),
    "model": (
        "BottomEnd",
        "Climate",
        "Cover",
        "Finding",
        "Fingering",
        "FingeringTable",
        "FitResult",
        "FitWishes",
        "Instrument",
        "KeyworkSurvey",
        "Mouthpiece",
        "Pad",
        "Part",
        "PitchStandard",
        "Reed",
        "Register",
        "Rest",
        "SensitivityMap",
        "Socket",
        "SolidsReport",
        "SurveyItem",
        "SurveyRow",
        "Tenon",
        "ToneHole",
        "TuningTable",
        "Undercut",
        "Use",
        "read_fingerings",
        "read_survey",
        "save_as",
    ),
}
_ROOM_OF = {name: room for room, names in _WHERE.items() for name in names}

__all__ = [
    "AcousticsError",
    "Air",
    "BorewrightError",
    "BottomEnd",
    "Climate",
    "Cover",
    "DocumentsError",
    "Finding",
    "Fingering",
    "FingeringTable",
    "FitError",
    "FitResult",
    "FitWishes",
    "HoleCover",
    "HoleShape",
    "Instrument",
    "KeyworkSurvey",
    "LedgerError",
    "ModelError",
    "Mouthpiece",
    "Pad",
    "Part",
    "PitchStandard",
    "PlayingError",
    "PrintingError",
    "Reed",
    "Register",
    "Rest",
    "SensitivityMap",
    "Socket",
    "SolidsError",
    "SolidsReport",
    "SurveyItem",
    "SurveyRow",
    "Tenon",
    "ToneHole",
    "TuningTable",
    "Undercut",
    "Use",
    "character",
    "differences",
    "export_solids",
    "fit",
    "input_impedance",
    "load",
    "read_fingerings",
    "read_survey",
    "resonances",
    "save_as",
    "sensitivity",
    "solve_hole",
    "tuning",
]


def __getattr__(name: str) -> Any:
    if name == "__version__":
        from importlib.metadata import version

        return version("borewright")
    if name == "fit":
        return import_module("borewright.fit")
    if name not in _ROOM_OF:
        raise AttributeError(f"module 'borewright' has no attribute '{name}'")
    return getattr(import_module(f"borewright.{_ROOM_OF[name]}"), name)


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__, "__version__"})


class _FitRoom(ModuleType):
    """The room ``fit``, which answers to a call as well."""

    def __call__(self, *arguments: Any, **named: Any) -> Any:
        from borewright.doors.python import fit as fit_by_door

        return fit_by_door(*arguments, **named)


class _Door(ModuleType):
    """The package: importing a room sets it as an attribute, and ``fit`` learns to be called."""

    def __setattr__(self, name: str, value: Any) -> None:
        if name == "fit" and type(value) is ModuleType:
            value.__class__ = _FitRoom
        super().__setattr__(name, value)


sys.modules[__name__].__class__ = _Door
