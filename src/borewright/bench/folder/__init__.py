"""The bench's folder: plain files, saved whole or not at all, with their history beside them.

The history lives in the hidden folder ``.bench`` and can be removed without harm to any file.
"""

from borewright.bench.folder.kinds import FolderFile, Kind
from borewright.bench.folder.opened import ChangedElsewhereError, OpenFolder
from borewright.bench.folder.paths import inside
from borewright.bench.folder.timeline import Revision

__all__ = ["ChangedElsewhereError", "FolderFile", "Kind", "OpenFolder", "Revision", "inside"]
