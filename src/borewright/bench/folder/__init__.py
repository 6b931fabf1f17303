"""The bench's folder: plain files, saved whole or not at all, with their history beside them.

The history lives in the hidden folder ``.bench`` and can be removed without harm to any file.
"""

from borewright.bench.folder.kinds import FolderFile as FolderFile
from borewright.bench.folder.kinds import Kind as Kind
from borewright.bench.folder.opened import ChangedElsewhereError as ChangedElsewhereError
from borewright.bench.folder.opened import OpenFolder as OpenFolder
from borewright.bench.folder.paths import inside as inside
from borewright.bench.folder.timeline import Revision as Revision
from borewright.listing import names

__all__ = names(__file__)
