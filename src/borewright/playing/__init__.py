"""From a play test to what to do next: takes, as-built readings, corrections, comparison.

This room knows no CAD and no screen.
"""

from borewright.listing import names
from borewright.model.results.advice import Aim as Aim
from borewright.playing.as_built import AsBuilt as AsBuilt
from borewright.playing.as_built import as_built as as_built
from borewright.playing.blind_order import BlindTake as BlindTake
from borewright.playing.blind_order import blind_order as blind_order
from borewright.playing.calibration import calibrate as calibrate
from borewright.playing.campaign import measured_notes as measured_notes
from borewright.playing.campaign import separate as separate
from borewright.playing.campaign import takes_needed as takes_needed
from borewright.playing.causes import diagnose as diagnose
from borewright.playing.climate import at_design_climate as at_design_climate
from borewright.playing.climate import room_temperature as room_temperature
from borewright.playing.comparison import compare as compare
from borewright.playing.comparison import pairs_needed as pairs_needed
from borewright.playing.corrections import corrections as corrections
from borewright.playing.joints import as_in_takes as as_in_takes
from borewright.playing.joints import at_joints_of as at_joints_of
from borewright.playing.measured import MeasuredNote as MeasuredNote
from borewright.playing.readings import Reading as Reading
from borewright.playing.readings import read_readings as read_readings
from borewright.playing.records import Record as Record
from borewright.playing.records import read_records as read_records
from borewright.playing.records import records_of as records_of
from borewright.playing.records import write_records as write_records
from borewright.playing.takes import analyse_take as analyse_take

__all__ = names(__file__)
