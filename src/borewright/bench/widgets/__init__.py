"""Widgets that every view shares: plain, labelled, usable by keys, mouse and finger."""

from borewright.bench.widgets.buttons import button
from borewright.bench.widgets.choice import Choice
from borewright.bench.widgets.dialogs import dialog
from borewright.bench.widgets.drawn import Drawn
from borewright.bench.widgets.file_drop import FileDrop
from borewright.bench.widgets.findings import findings_list
from borewright.bench.widgets.help import term
from borewright.bench.widgets.job_bar import JobBar
from borewright.bench.widgets.message import Message
from borewright.bench.widgets.number_field import NumberField
from borewright.bench.widgets.tables import table
from borewright.bench.widgets.texts import heading, text
from borewright.bench.widgets.units import Units, length_from, number_from

__all__ = [
    "Choice",
    "Drawn",
    "FileDrop",
    "JobBar",
    "Message",
    "NumberField",
    "Units",
    "button",
    "dialog",
    "findings_list",
    "heading",
    "length_from",
    "number_from",
    "table",
    "term",
    "text",
]
