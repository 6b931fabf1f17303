"""What a fit hands over: moves, notes out of reach with their true cause, what held things pay."""

from __future__ import annotations

from pydantic import ConfigDict, Field

from borewright.model.base import Entity
from borewright.model.results.findings import Finding
from borewright.model.results.tuning import TuningSummary, TuningTable
from borewright.words import Message, Said, joined, say


class Move(Entity):
    """One dimension or bore feature that was free (mm), and the limit that holds it, if one does.

    ``dimension`` is its name in words, ``measure`` its key: ``station``, ``diameter``,
    ``chimney``, ``cylinder``, ``flare_start`` and so on. ``drawn`` is what the drawing has.
    """

    part: str
    hole: str
    dimension: Said
    measure: str = ""
    from_: float = Field(alias="from")
    to: float
    drawn: float | None = None
    limit: Said | None = None

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


class Relaxation(Entity):
    """What one thing would bring, fitted anew: a limit relaxed, or something freed that is held.

    ``change`` says what is done; ``cents_after`` is the note, ``rms_after`` and ``worst_after``
    all standard fingerings with it.
    """

    limit: Said
    cents_after: float
    change: Said | None = None
    rms_after: float | None = None
    worst_after: float | None = None


class OutOfReach(Entity):
    """A note that stays beyond its tolerance, with what stops it; what pays most comes first."""

    fingering: str
    cents: float
    tolerance_cents: float
    relaxations: list[Relaxation]
    advice: Said


class HeldBack(Entity):
    """Something that is held and would better the tuning if it were freed (rms, worst cents).

    ``what`` says how it is freed, ``held`` what it is. ``notes`` are the fingerings that gain
    most, with their cents before and after.
    """

    what: Said
    held: Said | None = None
    rms_after: float
    worst_after: float
    notes: list[tuple[str, float, float]]

    @property
    def words(self) -> Message:
        """Which notes it holds, and what freeing it would bring."""
        freed = say(
            "{what} would bring rms {rms:.1f}, worst {worst:+.1f} cents.",
            what=self.what,
            rms=self.rms_after,
            worst=self.worst_after,
        )
        if not self.notes:
            return freed
        notes = [
            say("{note} from {before:+.0f} to {after:+.0f}", note=name, before=before, after=after)
            for name, before, after in self.notes
        ]
        thing: Said = self.held or self.what
        return say(
            "Held by {thing}: {notes} cents. {freed}",
            thing=thing,
            notes=joined(notes, ", "),
            freed=freed,
        )


class AtLimit(Entity):
    """A limit that holds a fit back, and what a moderate step beyond it would buy, predicted.

    ``by_mm`` is the step, ``gain_cents`` by how much the root mean square of the standard
    fingerings would fall; ``notes`` are those that gain most, with their cents before and after.
    """

    what: Said
    by_mm: float
    gain_cents: float
    notes: list[tuple[str, float, float]] = []

    @property
    def words(self) -> Message:
        """The limit, the step, and what it would buy."""
        bought = say(
            "{what}: {by_mm:g} mm further would take {gain:.2f} cents off the rms",
            what=self.what,
            by_mm=self.by_mm,
            gain=self.gain_cents,
        )
        if not self.notes:
            return bought
        notes = [
            say("{note} from {before:+.1f} to {after:+.1f}", note=name, before=before, after=after)
            for name, before, after in self.notes
        ]
        return say("{bought} ({notes})", bought=bought, notes=joined(notes, ", "))


#: A gain (cents of rms) below this is nothing to speak of.
_SPEAK_CENTS = 0.05


def limit_words(limits: list[AtLimit]) -> list[Said]:
    """A sentence for each limit whose step would buy something, and one for all others."""
    found: list[Said] = [each.words for each in limits if each.gain_cents >= _SPEAK_CENTS]
    rest = [each.what for each in limits if each.gain_cents < _SPEAK_CENTS]
    if rest:
        found.append(
            say(
                "less than {least:g} cents each: {limits}",
                least=_SPEAK_CENTS,
                limits=joined(rest, "; "),
            )
        )
    return found


class StateTuning(Entity):
    """Tuning in another state of ``fit.also``, before and after a fit."""

    name: str
    before: TuningSummary
    after: TuningTable


class FitResult(Entity):
    """Outcome of a fit: tuning before and after, moves, and notes out of reach.

    ``held_back`` tells what would pay if it were freed, dearest first, ``at_limits`` what each
    limit that is reached costs, first the dearest. ``also`` holds the tuning
    in the further states of ``fit.also``. ``hole_solutions`` tells
    how often the side holes of what was found were solved in 3-D; 0 where the fit used closed
    forms.
    """

    instrument: str
    before: TuningTable
    after: TuningTable
    moved: list[Move]
    out_of_reach: list[OutOfReach]
    held_back: list[HeldBack] = []
    at_limits: list[AtLimit] = []
    also: list[StateTuning] = []
    findings: list[Finding] = []
    finished: bool
    rounds: int
    hole_solutions: int = 0
    seconds: float
