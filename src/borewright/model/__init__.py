"""What an instrument is: parts, holes, keywork, fingerings, pitch; their files and validation.

This room knows no physics, no CAD and no screen; every other room reads it.
"""

from borewright.model.body_features import BodyFeatures, ThumbRest
from borewright.model.dimensions import Dimension, dimensions, read_values, with_values
from borewright.model.doubts import Doubts, Spread
from borewright.model.drawing_board import drawn, remembering
from borewright.model.drawn import Drawing
from borewright.model.files import (
    is_key_survey,
    keys_text,
    load,
    read_fingerings,
    read_instrument,
    read_keys,
    read_survey,
    save_as,
    starting_text,
    write_bytes,
    write_keys,
    write_text,
)
from borewright.model.fingering import Fingering, FingeringTable
from borewright.model.fit_wishes import FitWishes
from borewright.model.hole import Pad, ToneHole, Undercut
from borewright.model.instrument import Climate, Instrument, Mouthpiece, Reed
from borewright.model.keys import KeySet
from borewright.model.keywork import KeyworkSurvey, SurveyRow
from borewright.model.kinds import (
    BottomEnd,
    Clearance,
    Cover,
    LatticeKind,
    PostBase,
    PostHole,
    Register,
    Rest,
    SeatShape,
    Severity,
    SurveyItem,
    Use,
)
from borewright.model.part import Part, Socket, Tenon
from borewright.model.pitch import PitchStandard, note_name, note_number
from borewright.model.results.character import (
    BandFraction,
    BorePerturbation,
    BoreStation,
    CharacterTable,
    Differences,
    Evenness,
    ImpedancePeak,
    LatticeCutoff,
    Measure,
    NoteCharacter,
    NoteDifference,
    RegisterDifference,
    Venting,
)
from borewright.model.results.findings import Finding
from borewright.model.results.fitting import FitResult, HeldBack, Move, OutOfReach, Relaxation
from borewright.model.results.solids import SolidPart, SolidsReport
from borewright.model.results.tuning import (
    ErrorBar,
    ErrorBars,
    NoteResult,
    ParameterEffect,
    SensitivityMap,
    TuningSummary,
    TuningTable,
    Twelfth,
    WarmUpPoint,
)

__all__ = [
    "BandFraction",
    "BodyFeatures",
    "BorePerturbation",
    "BoreStation",
    "BottomEnd",
    "CharacterTable",
    "Clearance",
    "Climate",
    "Cover",
    "Differences",
    "Dimension",
    "Doubts",
    "Drawing",
    "ErrorBar",
    "ErrorBars",
    "Evenness",
    "Finding",
    "Fingering",
    "FingeringTable",
    "FitResult",
    "FitWishes",
    "HeldBack",
    "ImpedancePeak",
    "Instrument",
    "KeySet",
    "KeyworkSurvey",
    "LatticeCutoff",
    "LatticeKind",
    "Measure",
    "Mouthpiece",
    "Move",
    "NoteCharacter",
    "NoteDifference",
    "NoteResult",
    "OutOfReach",
    "Pad",
    "ParameterEffect",
    "Part",
    "PitchStandard",
    "PostBase",
    "PostHole",
    "Reed",
    "Register",
    "RegisterDifference",
    "Relaxation",
    "Rest",
    "SeatShape",
    "SensitivityMap",
    "Severity",
    "Socket",
    "SolidPart",
    "SolidsReport",
    "Spread",
    "SurveyItem",
    "SurveyRow",
    "Tenon",
    "ThumbRest",
    "ToneHole",
    "TuningSummary",
    "TuningTable",
    "Twelfth",
    "Undercut",
    "Use",
    "Venting",
    "WarmUpPoint",
    "dimensions",
    "drawn",
    "is_key_survey",
    "keys_text",
    "load",
    "note_name",
    "note_number",
    "read_fingerings",
    "read_instrument",
    "read_keys",
    "read_survey",
    "read_values",
    "remembering",
    "save_as",
    "starting_text",
    "with_values",
    "write_bytes",
    "write_keys",
    "write_text",
]
