"""Who a paper comes from, and the sheet it is printed on."""

from __future__ import annotations

from dataclasses import dataclass

from borewright.errors import DocumentsError
from borewright.words import joined, say

#: Sheets a workshop prints on, with the typesetter's names for them.
PAPERS = {"A4": "a4", "Letter": "us-letter"}


@dataclass(frozen=True)
class Letterhead:
    """The owner's name, lines under it, mark as SVG, and paper of a document.

    Raises DocumentsError for a paper that is not one of :data:`PAPERS`.
    """

    owner: str = ""
    address: tuple[str, ...] = ()
    mark_svg: str = ""
    paper: str = "A4"

    def __post_init__(self) -> None:
        if self.paper not in PAPERS:
            raise DocumentsError(
                say("there is no paper '{paper}'", paper=self.paper[:20]),
                place=(say("letterhead"), say("paper")),
                remedy=say("Choose among {papers}.", papers=joined(PAPERS, ", ")),
            )
