"""What an instrument is: parts, holes, keywork, fingerings, pitch; their files and validation.

This room knows no physics, no CAD and no screen; every other room reads it.
"""

from borewright.model.body_features import BodyFeatures, ThumbRest
from borewright.model.dimensions import Dimension, dimensions, read_values, with_values
from borewright.model.doubts import Doubts, Spread
from borewright.model.files import (
    load,
    read_fingerings,
    read_instrument,
    read_survey,
    save_as,
    starting_text,
    write_bytes,
    write_text,
)
from borewright.model.fingering import Fingering, FingeringTable
from borewright.model.fit_wishes import FitWishes
from borewright.model.hole import Pad, ToneHole, Undercut
from borewright.model.instrument import Climate, Instrument, Mouthpiece, Reed
from borewright.model.keywork import KeyworkSurvey, SurveyRow
from borewright.model.kinds import (
    BottomEnd,
    Clearance,
    Cover,
    PostBase,
    PostHole,
    Register,
    Rest,
    SeatShape,
    SurveyItem,
    Use,
)
from borewright.model.part import Part, Socket, Tenon
from borewright.model.pitch import PitchStandard, note_name, note_number
from borewright.model.results import (
    ErrorBar,
    ErrorBars,
    Finding,
    FitResult,
    Move,
    NoteResult,
    OutOfReach,
    ParameterEffect,
    Relaxation,
    SensitivityMap,
    SolidPart,
    SolidsReport,
    TuningSummary,
    TuningTable,
    Twelfth,
    WarmUpPoint,
)

__all__ = [
    "BodyFeatures",
    "BottomEnd",
    "Clearance",
    "Climate",
    "Cover",
    "Dimension",
    "Doubts",
    "ErrorBar",
    "ErrorBars",
    "Finding",
    "Fingering",
    "FingeringTable",
    "FitResult",
    "FitWishes",
    "Instrument",
    "KeyworkSurvey",
    "Mouthpiece",
    "Move",
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
    "Relaxation",
    "Rest",
    "SeatShape",
    "SensitivityMap",
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
    "WarmUpPoint",
    "dimensions",
    "load",
    "note_name",
    "note_number",
    "read_fingerings",
    "read_instrument",
    "read_survey",
    "read_values",
    "save_as",
    "starting_text",
    "with_values",
    "write_bytes",
    "write_text",
]
