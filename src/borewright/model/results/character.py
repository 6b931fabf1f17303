"""Results of the character table, of comparing two instruments, and of boring a little wider.

Like the other results they know their units and turn into JSON with
``model_dump(mode="json", by_alias=True)``.
"""

from __future__ import annotations

from pydantic import ConfigDict, Field

from borewright.model.base import Entity
from borewright.model.kinds import LatticeKind, Register, Use
from borewright.model.results.tuning import ResonanceStatus, Twelfth
from borewright.words import Said

_BY_ALIAS = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


class Measure(Entity):
    """What a figure of the character table means, and on what its plain words stand.

    ``basis`` is "common practice" where no study stands behind the words.
    """

    name: Said
    unit: Said
    definition: Said
    source: Said
    words: Said
    basis: Said


class ImpedancePeak(Entity):
    """A maximum of the input impedance's modulus, as the reed sees it.

    ``height`` is over the characteristic impedance at the top of the bore; ``width_hz`` is
    between the half-power points (None where a neighbour hides one) and ``quality`` the
    frequency over it. ``harmonic`` is the nearest harmonic of the note, ``harmonic_cents`` how
    far the peak lies above it; both None for the sounding peak and those below it.
    """

    number: int
    frequency_hz: float
    height: float
    height_db: float
    width_hz: float | None
    quality: float | None
    harmonic: int | None = None
    harmonic_cents: float | None = None


class LatticeCutoff(Entity):
    """Where the row of open holes stops returning the sound.

    ``cutoff_hz`` from the reflection of the real row, ``formula_hz`` from the formula of a
    periodic lattice for the first two open holes; None where there is none.
    """

    cutoff_hz: float | None
    formula_hz: float | None
    kind: LatticeKind
    first_hole: str
    open_holes: int


class BandFraction(Entity):
    """Mean share of the entering power that is radiated in a third of an octave."""

    centre_hz: float
    radiated: float


class Venting(Entity):
    """What opening the register vent does to a note's first two peaks.

    Shifts in cents and losses in dB are those of the peaks with the vent open against closed.
    ``advantage_db`` is the second peak's height over the first's with the vent open, and
    ``misalignment_cents`` how far three times the first lies above the second.
    """

    vent: str
    low: str
    high: str
    first_shift_cents: float
    first_loss_db: float
    second_shift_cents: float
    second_loss_db: float
    advantage_db: float
    misalignment_cents: float
    words: Said


class NoteCharacter(Entity):
    """Everything the character table says of one fingering.

    ``alignment_cents`` is that of the highest peak above the sounding one that lies within a
    semitone of a harmonic of the note and is no more than 15 dB lower (None where none is);
    ``radiated_at_pitch`` and ``bell_share`` (of what is radiated, the part from the bottom end)
    are taken at the pitch.
    """

    written: str
    register_: Register = Field(alias="register")
    fingering: str
    use: Use
    target_hz: float
    sounding_hz: float | None
    cents: float | None
    peaks: list[ImpedancePeak]
    sounding_peak: int | None
    alignment_cents: float | None
    lattice: LatticeCutoff
    radiated_at_pitch: float | None
    bell_share: float | None
    bands: list[BandFraction]
    venting: Venting | None
    words: list[Said]
    status: ResonanceStatus

    model_config = _BY_ALIAS

    def peak(self) -> ImpedancePeak | None:
        """The peak that sounds."""
        for peak in self.peaks:
            if peak.number == self.sounding_peak:
                return peak
        return None


class Evenness(Entity):
    """How evenly one figure runs through the standard notes of some registers.

    ``mean_step`` is the mean size of the step from each note to the next, ``worst_step`` the
    largest, between the two notes of ``worst_between``.
    """

    quantity: Said
    unit: str
    registers: list[str]
    notes: list[str]
    values: list[float]
    mean: float
    mean_step: float
    worst_step: float
    worst_between: tuple[str, str]


class CharacterTable(Entity):
    """Character of every fingering, evenness, and what the figures mean.

    ``balance_error`` is the largest departure from entering = lost + radiated, over all
    fingerings and frequencies up to ``highest_hz``, as a share of what enters.
    """

    instrument: str
    notes: list[NoteCharacter]
    evenness: list[Evenness]
    twelfths: list[Twelfth]
    measures: list[Measure]
    highest_hz: float
    balance_error: float
    model_level: Said
    climate: Said

    def note(self, fingering: str) -> NoteCharacter:
        """The row of a fingering such as ``B3`` or ``B3 (sliver)``; KeyError if absent."""
        for note in self.notes:
            if note.fingering == fingering:
                return note
        raise KeyError(fingering)


class NoteDifference(Entity):
    """The second instrument less the first, for one fingering of both.

    ``size`` counts differences in steps a player may plausibly notice (root of the sum of
    squares; the steps are in ``Differences.steps``).
    """

    fingering: str
    register_: Register = Field(alias="register")
    use: Use
    differences: dict[str, float]
    size: float
    words: Said

    model_config = _BY_ALIAS


class RegisterDifference(Entity):
    """Mean difference of every figure over one register's standard notes."""

    register_: Register = Field(alias="register")
    differences: dict[str, float]
    size: float

    model_config = _BY_ALIAS


class Differences(Entity):
    """Two instruments side by side; every difference is the second less the first."""

    first: str
    second: str
    units: dict[str, str]
    steps: dict[str, float]
    notes: list[NoteDifference]
    registers: list[RegisterDifference]
    twelfths: list[Twelfth]
    only_first: list[str]
    only_second: list[str]
    sentences: list[Said]
    first_table: CharacterTable
    second_table: CharacterTable


class BoreStation(Entity):
    """A place of the bore: in its part, and from the top of the first part (mm).

    ``width_mm`` is the length of bore that the bump stands for: half the way to both
    neighbours in the same part, half as much at a part's end.
    """

    part: str
    station_mm: float
    position_mm: float
    diameter_mm: float
    width_mm: float


class BorePerturbation(Entity):
    """Cents that a wider bore at one station brings to every fingering.

    At each station the diameter grows by ``widening_mm`` and falls off linearly to the two
    neighbouring stations. ``cents[i][j]`` belongs to ``fingerings[i]`` and ``stations[j]``;
    narrowing by the same amount brings the opposite, to first order.
    """

    instrument: str
    fingerings: list[str]
    registers: list[str]
    stations: list[BoreStation]
    widening_mm: float
    step_mm: float
    cents: list[list[float]]
    model_level: Said
    climate: Said

    def curve(self, fingering: str) -> list[float]:
        """Cents (one a station) of a fingering; KeyError if absent."""
        if fingering not in self.fingerings:
            raise KeyError(fingering)
        return self.cents[self.fingerings.index(fingering)]
