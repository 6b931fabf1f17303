"""Invented results for these tests: one consistent body, nobody's measurements.

Bore, holes and the cents "before" are those of the project's trade tables; the cents
"after" are made up.
"""

from __future__ import annotations

from borewright.model import (
    Climate,
    Cover,
    Finding,
    FitResult,
    Instrument,
    Mouthpiece,
    Move,
    NoteResult,
    OutOfReach,
    Pad,
    Part,
    PitchStandard,
    Reed,
    Register,
    Relaxation,
    Rest,
    SensitivityMap,
    Socket,
    SolidPart,
    SolidsReport,
    Tenon,
    ToneHole,
    TuningSummary,
    TuningTable,
    Twelfth,
    Use,
    note_number,
)
from borewright.model.results.tuning import ResonanceStatus

# name, part, station in part, diameter, chimney, bearing, pad diameter, lift, rest
HOLES = """
RV upper 13.0 3.0 0 180 9 1.5 closed
S4 upper 21.5 5.0 -0.5 -70 9.5 2.3 closed
S3 upper 43.5 5.2 -0.5 -70 9.5 2.3 closed
A upper 55.0 5.2 -0.7 0 9.5 2.3 closed
GS upper 67.5 5.3 -0.7 40 9.5 2.3 closed
TP upper 85.5 5.6 -0.7 -20 9.5 2.2 open
T upper 94.0 7.0 0.5 180 ring
S2 upper 95.0 5.4 -0.3 -75 9.5 2.5 closed
L1 upper 111.5 6.2 0.7 0 ring
LP upper 128.5 6.0 -0.3 -25 9.5 2.3 open
L2 upper 139.5 6.6 0.7 0 ring
SV upper 140.0 5.6 -0.3 70 9.5 2.5 closed
S1 upper 141.5 5.8 -0.3 -75 9.5 2.5 closed
L3 upper 160.5 7.8 0.5 0 finger
CG upper 171.5 5.2 0.1 50 10 2.3 closed
RP lower 27.0 8.4 -0.8 -10 12 3.0 open
R1 lower 43.0 9.0 0.4 0 ring
SB lower 45.0 8.0 -0.4 -85 12 2.8 closed
R2 lower 67.0 8.2 1.0 0 ring
R3 lower 89.5 9.4 0.4 0 ring
AE lower 118.5 9.8 -0.6 -55 13.5 3.3 closed
FC lower 145.5 11.5 -1.0 -25 16.5 3.9 open
FS lower 177.0 11.2 -1.0 60 16 3.8 closed
EB lower 214.0 12.2 -1.0 15 17 4.2 open
"""

# written note, register, cents before, cents after
STANDARD = """
E3 chalumeau -4 -3.1
F3 chalumeau 0 1.2
F#3 chalumeau 0 0.4
G3 chalumeau 0 1.9
G#3 chalumeau 1 2.2
A3 chalumeau 1 3.6
Bb3 chalumeau 0 2.8
B3 chalumeau 1 2.9
C4 chalumeau 0 0.7
C#4 chalumeau 1 -0.4
D4 chalumeau 1 -0.9
Eb4 chalumeau 0 -3.0
E4 chalumeau 0 -5.2
F4 chalumeau 0 -6.8
F#4 throat -1 -2.0
G4 throat 0 0.6
G#4 throat 0 1.1
A4 throat 0 2.4
B4 clarion -22 -8.9
C5 clarion -2 -0.6
C#5 clarion -3 -1.8
D5 clarion -8 -3.3
Eb5 clarion -8 -3.0
E5 clarion -12 -4.1
F5 clarion -10 -3.9
F#5 clarion -10 -3.5
G5 clarion -3 -1.4
G#5 clarion -3 -2.2
A5 clarion 1 1.0
Bb5 clarion 9 4.3
B5 clarion 20 7.7
C6 clarion 28 9.4
C#6 altissimo 9 3.0
D6 altissimo 13 5.5
Eb6 altissimo 4 1.7
E6 altissimo 42 17.9
F6 altissimo 42 16.0
F#6 altissimo 42 15.2
G6 altissimo 35 12.5
"""

# written note, label, register, cents before, cents after
OTHERS = """
Bb4||throat|-14|-12.3
B3|sliver|chalumeau|0|0.8
F#5|sliver|clarion|-8|-3.7
Eb4|left sliver|chalumeau|1|-2.5
Bb5|left sliver|clarion|9|4.0
Eb4|one-and-one|chalumeau|9|6.1
Bb5|one-and-one|clarion|-3|-1.0
Eb4|one-and-two|chalumeau|14|11.2
Bb5|one-and-two|clarion|15|10.4
F#4|chromatic|throat|0|-0.7
Bb4|side|throat|0|1.3
B4|trill|throat|0|2.2
G4|fingers down|throat|-32|-30.0
Bb4|fingers down|throat|-21|-19.5
G6|fork|altissimo|81|63.0
Eb6|sliver|altissimo|16|9.1
"""


def _hole(line: str) -> tuple[str, ToneHole]:
    name, part, station, diameter, chimney, bearing, *cover = line.split()
    pad = len(cover) == 3
    return part, ToneHole(
        name=name,
        station_mm=float(station),
        diameter_mm=float(diameter),
        chimney_mm=float(chimney),
        bearing_deg=float(bearing),
        into_bore_mm=3.5 if name == "RV" else 0.0,
        cover=Cover.PAD if pad else Cover(cover[0]),
        pad=Pad(diameter_mm=float(cover[0]), lift_mm=float(cover[1]), rest=Rest(cover[2]))
        if pad
        else None,
    )


def clarinet(name: str = "Invented clarinet in B-flat") -> Instrument:
    """The reference body of the trade tables, with tenons and sockets."""
    placed = [_hole(line) for line in HOLES.strip().splitlines()]
    upper = [hole for part, hole in placed if part == "upper"]
    lower = [hole for part, hole in placed if part == "lower"]
    return Instrument(
        name=name,
        invented=True,
        pitch=PitchStandard(a4_hz=440.0, written_to_sounding_semitones=-2),
        climate=Climate(),
        mouthpiece=Mouthpiece(),
        reed=Reed(),
        note="Bore and holes of the project's own reference body.",
        parts=[
            Part(
                name="barrel",
                length_mm=65,
                bore=[(0, 15.0), (65, 14.85)],
                outside=[(0, 31), (30, 34), (65, 30.5)],
                socket_top=Socket(depth_mm=16.4, diameter_mm=22.3),
                socket_bottom=Socket(depth_mm=16.4, diameter_mm=22.3),
            ),
            Part(
                name="upper joint",
                length_mm=180,
                bore=[(0, 14.95), (20, 14.85), (40, 14.7), (85, 14.65), (180, 14.65)],
                outside=[(0, 29.6), (180, 29.6)],
                tenon_top=Tenon(length_mm=16, diameter_mm=22, cork_length_mm=11, cork_depth_mm=1),
                tenon_bottom=Tenon(
                    length_mm=21, diameter_mm=23, cork_length_mm=15, cork_depth_mm=1
                ),
                holes=upper,
            ),
            Part(
                name="lower joint",
                length_mm=244,
                bore=[(0, 14.65), (150, 14.65), (192, 15.84), (244, 20.6)],
                outside=[(0, 30.0), (180, 31.0), (225, 33.5), (244, 34.5)],
                socket_top=Socket(depth_mm=21.4, diameter_mm=23.3),
                tenon_bottom=Tenon(
                    length_mm=16.5, diameter_mm=26, cork_length_mm=11, cork_depth_mm=1
                ),
                holes=lower,
            ),
            Part(
                name="bell",
                length_mm=100,
                bore=[(0, 21.0), (30, 23.8), (55, 28.5), (80, 38.0), (100, 58.0)],
                outside=[(0, 37), (25, 38), (50, 41), (75, 50), (92, 68), (100, 76)],
                socket_top=Socket(depth_mm=17, diameter_mm=26.3),
            ),
        ],
    )


def pipe() -> Instrument:
    """A tiny keyless instrument: one part, three holes, no mouthpiece."""
    return Instrument(
        name="Tiny pipe",
        invented=True,
        parts=[
            Part(
                name="body",
                length_mm=120,
                bore=[(0, 8.0), (120, 8.0)],
                outside=[(0, 14.0), (120, 14.0)],
                holes=[
                    ToneHole(name=str(number), station_mm=station, diameter_mm=4.0)
                    for number, station in ((1, 50.0), (2, 70.0), (3, 90.0))
                ],
            )
        ],
    )


def note(
    written: str, register: str, cents: float | None, label: str = "", use: Use = Use.STANDARD,
    status: ResonanceStatus = ResonanceStatus.OK,
) -> NoteResult:  # fmt: skip
    """One row of a tuning table of the invented clarinet."""
    target = PitchStandard(written_to_sounding_semitones=-2).target_hz(written)
    return NoteResult(
        written=written,
        register_=Register(register),
        fingering=f"{written} ({label})" if label else written,
        open_holes=(),
        use=use,
        target_hz=target,
        sounding_hz=None if cents is None else target * 2 ** (cents / 1200),
        cents=cents,
        status=status,
    )


def table(column: int, instrument: str = "Invented clarinet in B-flat") -> TuningTable:
    """All fingerings: column 0 before the fit, 1 after it."""
    notes = []
    for line in STANDARD.strip().splitlines():
        written, register, *cents = line.split()
        notes.append(note(written, register, float(cents[column])))
    for line in OTHERS.strip().splitlines():
        written, label, register, *cents = line.split("|")
        use = Use.ALTERNATE if label else Use.APART
        notes.append(note(written, register, float(cents[column]), label, use))
    by_note = {row.written: row for row in notes if row.use is Use.STANDARD}
    twelfths = []
    for low in by_note.values():
        high = next(
            (row for row in by_note.values() if row.register_ is Register.CLARION
             and note_number(row.written) == note_number(low.written) + 19),
            None,
        )  # fmt: skip
        if low.register_ is Register.CHALUMEAU and high:
            stretch = (high.cents or 0) - (low.cents or 0) - 1.955
            twelfths.append(Twelfth(low=low.written, high=high.written, stretch_cents=stretch))
    return TuningTable(
        instrument=instrument,
        notes=notes,
        twelfths=twelfths,
        summary=TuningSummary.of(notes),
        model_level="closed forms",
        climate="room 21 °C, reed end 30.5 °C, 85 % humidity",
    )


def fit_result(name: str = "Invented clarinet in B-flat") -> FitResult:
    """An invented fit with moves, limits, a note out of reach and a finding."""
    return FitResult(
        instrument=name,
        before=table(0, name),
        after=table(1, name),
        moved=[
            Move(part="barrel", hole="", dimension="length", from_=65.0, to=64.4),
            Move(part="upper joint", hole="L1", dimension="station", from_=111.5, to=112.3),
            Move(
                part="upper joint", hole="RV", dimension="station", from_=13.0, to=11.5,
                limit="cup window: the register key reaches 1.5 mm up",
            ),
            Move(
                part="lower joint", hole="R3", dimension="diameter", from_=9.4, to=9.6,
                limit="largest finger hole 9.6 mm",
            ),
        ],
        out_of_reach=[
            OutOfReach(
                fingering="E6",
                cents=17.9,
                tolerance_cents=10,
                relaxations=[
                    Relaxation(limit="RV cup window, 1 mm further up", cents_after=14.2),
                    Relaxation(limit="L1 ring inside, 1 mm wider", cents_after=15.6),
                ],
                advice="Ask the key supplier for a register key whose cup reaches 1 mm higher.",
            )
        ],
        findings=[
            Finding(
                severity="notice",
                place="upper joint, holes L2 and S1",
                what="only 1.6 mm of wall is left between them",
                remedy="Move S1 by 0.5 mm or accept it: 1.5 mm is the limit.",
            )
        ],
        finished=True,
        rounds=14,
        seconds=1.7,
    )  # fmt: skip


def sensitivities() -> SensitivityMap:
    """Invented sensitivities: a hole moves the notes near and above it most."""
    fingerings = [row.fingering for row in table(0).notes]
    holes = [hole for _, hole, _ in clarinet().placed_holes()]
    dimensions = [f"{hole.name} {measure}" for hole in holes for measure in ("station", "diameter")]
    dimensions.append("barrel length")
    rows = []
    for row in table(0).notes:
        height = (note_number(row.written) - 52) % 19
        values = []
        for index, hole in enumerate(reversed(holes)):
            near = max(0.0, 1.0 - abs(height - index * 0.8) / 3.0)
            values.append((-0.9 * near, 8.0 / hole.diameter_mm * near))
        flat = [value for pair in reversed(values) for value in pair]
        rows.append([*flat, -0.4])
    return SensitivityMap(
        instrument="Invented clarinet in B-flat",
        fingerings=fingerings,
        dimensions=dimensions,
        cents_per_tenth_mm=rows,
        model_level="closed forms",
        climate="room 21 °C",
    )


def solids() -> SolidsReport:
    """Two invented bodies."""
    return SolidsReport(
        parts=[
            SolidPart(
                part=name, step=f"{name}.step", stl=f"{name}.stl", three_mf=f"{name}.3mf",
                volume_mm3=volume, watertight=True, valid=True, bounding_box_mm=box,
            )
            for name, volume, box in (
                ("barrel", 41230.0, (34.0, 34.0, 65.0)),
                ("upper joint", 96480.0, (31.0, 31.0, 217.0)),
            )
        ]
    )  # fmt: skip
