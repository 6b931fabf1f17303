"""Borewright: from a survey of bought-in keywork to a printed woodwind that plays in tune.

A name loads its room when it is first used, so ``import borewright`` is light.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from borewright.listing import listed

if TYPE_CHECKING:
    from borewright.acoustics import Air as Air
    from borewright.acoustics import input_impedance as input_impedance
    from borewright.acoustics import resonances as resonances
    from borewright.acoustics.solved import HoleCover as HoleCover
    from borewright.acoustics.solved import HoleShape as HoleShape
    from borewright.acoustics.solved import solve_hole as solve_hole
    from borewright.doors.python import batch_yield as batch_yield
    from borewright.doors.python import character as character
    from borewright.doors.python import differences as differences
    from borewright.doors.python import error_bars as error_bars
    from borewright.doors.python import export_solids as export_solids
    from borewright.doors.python import fit_instrument as fit_instrument
    from borewright.doors.python import load as load
    from borewright.doors.python import sensitivity as sensitivity
    from borewright.doors.python import tuning as tuning
    from borewright.doors.python import virtual_builds as virtual_builds
    from borewright.errors import AcousticsError as AcousticsError
    from borewright.errors import BorewrightError as BorewrightError
    from borewright.errors import DocumentsError as DocumentsError
    from borewright.errors import FitError as FitError
    from borewright.errors import LedgerError as LedgerError
    from borewright.errors import ModelError as ModelError
    from borewright.errors import PlayingError as PlayingError
    from borewright.errors import PrintingError as PrintingError
    from borewright.errors import SolidsError as SolidsError
    from borewright.errors import StudyError as StudyError
    from borewright.model import BottomEnd as BottomEnd
    from borewright.model import Climate as Climate
    from borewright.model import Cover as Cover
    from borewright.model import Doubts as Doubts
    from borewright.model import Finding as Finding
    from borewright.model import Fingering as Fingering
    from borewright.model import FingeringTable as FingeringTable
    from borewright.model import FitResult as FitResult
    from borewright.model import FitWishes as FitWishes
    from borewright.model import Instrument as Instrument
    from borewright.model import KeyworkSurvey as KeyworkSurvey
    from borewright.model import Mouthpiece as Mouthpiece
    from borewright.model import Pad as Pad
    from borewright.model import Part as Part
    from borewright.model import PitchStandard as PitchStandard
    from borewright.model import Reed as Reed
    from borewright.model import Register as Register
    from borewright.model import Rest as Rest
    from borewright.model import SensitivityMap as SensitivityMap
    from borewright.model import Socket as Socket
    from borewright.model import SolidsReport as SolidsReport
    from borewright.model import Spread as Spread
    from borewright.model import SurveyItem as SurveyItem
    from borewright.model import SurveyRow as SurveyRow
    from borewright.model import Tenon as Tenon
    from borewright.model import ToneHole as ToneHole
    from borewright.model import TuningTable as TuningTable
    from borewright.model import Undercut as Undercut
    from borewright.model import Use as Use
    from borewright.model import read_fingerings as read_fingerings
    from borewright.model import read_survey as read_survey
    from borewright.model import save_as as save_as

    __version__: str

__all__, _load = listed(__name__, __file__)


def __getattr__(name: str) -> Any:
    if name == "__version__":
        from importlib.metadata import version

        return version("borewright")
    return _load(name)


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__, "__version__"})
