"""Widgets that every view shares: plain, labelled, usable by keys, mouse and finger."""

from borewright.bench.widgets.buttons import button as button
from borewright.bench.widgets.choice import Choice as Choice
from borewright.bench.widgets.dialogs import dialog as dialog
from borewright.bench.widgets.drawn import Drawn as Drawn
from borewright.bench.widgets.file_drop import FileDrop as FileDrop
from borewright.bench.widgets.findings import findings_list as findings_list
from borewright.bench.widgets.help import term as term
from borewright.bench.widgets.job_bar import JobBar as JobBar
from borewright.bench.widgets.message import Message as Message
from borewright.bench.widgets.number_field import NumberField as NumberField
from borewright.bench.widgets.tables import table as table
from borewright.bench.widgets.texts import heading as heading
from borewright.bench.widgets.texts import text as text
from borewright.bench.widgets.units import Units as Units
from borewright.bench.widgets.units import length_from as length_from
from borewright.bench.widgets.units import number_from as number_from
from borewright.listing import names

__all__ = names(__file__)
