"""From a play test to what to do next: takes, as-built readings, corrections, comparison.

This room knows no CAD and no screen.
"""

from borewright.model.results.advice import Aim
from borewright.playing.as_built import AsBuilt, as_built
from borewright.playing.blind_order import BlindTake, blind_order
from borewright.playing.calibration import calibrate
from borewright.playing.campaign import measured_notes, separate, takes_needed
from borewright.playing.climate import at_design_climate, room_temperature
from borewright.playing.comparison import compare, pairs_needed
from borewright.playing.corrections import MeasuredNote, corrections
from borewright.playing.readings import Reading, read_readings
from borewright.playing.records import Record, read_records, records_of, write_records
from borewright.playing.takes import analyse_take

__all__ = [
    "Aim",
    "AsBuilt",
    "BlindTake",
    "MeasuredNote",
    "Reading",
    "Record",
    "analyse_take",
    "as_built",
    "at_design_climate",
    "blind_order",
    "calibrate",
    "compare",
    "corrections",
    "measured_notes",
    "pairs_needed",
    "read_readings",
    "read_records",
    "records_of",
    "room_temperature",
    "separate",
    "takes_needed",
    "write_records",
]
