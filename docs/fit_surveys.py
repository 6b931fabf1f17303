"""Random surveys and bores, seated and fitted, as a maker would meet them.

Every case scatters the example's cups and rings by up to 3 or 4 mm and its bearings by up to 5
degrees, draws another bore (upper joint in one to three steps between 14.6 and 15.0 mm, flare
early, middle or late) and another pitch (440 or 442 Hz). All invented. Run it with
``python docs/fit_surveys.py [COUNT]``; it prints one row a case.
"""

from __future__ import annotations

import random
import sys
from importlib.resources import files

from borewright.fit import fit
from borewright.fit.checks import body_findings
from borewright.fit.seating import seat
from borewright.model import (
    Instrument,
    KeyworkSurvey,
    Severity,
    SurveyItem,
    load,
    read_fingerings,
    read_survey,
    read_values,
)

EXAMPLE = files("borewright") / "examples" / "loan-clarinet"


def scattered(survey: KeyworkSurvey, rng: random.Random, by_mm: float) -> KeyworkSurvey:
    """The survey with its cups and rings moved and turned."""
    rows = []
    for row in survey.rows:
        if row.item is not SurveyItem.POST:
            station = round(row.station_mm + rng.uniform(-by_mm, by_mm), 1)
            bearing = round(row.bearing_deg + rng.uniform(-5, 5), 1)
            row = row.model_copy(
                update={"station_mm": station, "bearing_deg": max(-180.0, min(180.0, bearing))}
            )
        rows.append(row)
    return KeyworkSurvey(rows=rows)


def rebored(instrument: Instrument, rng: random.Random, flare: str) -> Instrument:
    """The instrument with a stepped upper joint and another flare."""
    data = instrument.model_dump()
    barrel, upper, lower = data["parts"][:3]
    first = round(rng.uniform(14.75, 15.0), 2)
    last = round(rng.uniform(14.6, first - 0.05), 2)
    steps = rng.randint(1, 3)
    bore = [(0.0, first)]
    above = first
    for step in range(1, steps + 1):
        below = round(first + (last - first) * step / steps, 2)
        station = round(180 * step / (steps + 1), 0)
        bore += [(station, above), (station, below)]
        above = below
    upper["bore"] = [*bore, (180.0, above)]
    barrel["bore"] = [(0.0, round(first + 0.1, 2)), (65.0, first)]
    start = {"early": 132.0, "middle": 150.0, "late": 168.0}[flare]
    middle = start + 42.0
    lower["bore"] = [
        (0.0, above),
        (start, above),
        (middle, round(above + 1.19, 2)),
        (244.0, 20.6),
        (260.0, 21.6),
    ]
    data["pitch"]["a4_hz"] = rng.choice((440.0, 442.0))
    return Instrument.model_validate(data)


def moved_mm(one: Instrument, other: Instrument) -> float:
    """How far the dimension that moved most is from home (mm)."""
    return max(abs(b - a) for a, b in zip(read_values(one), read_values(other), strict=True))


def main(count: int) -> None:
    """Print one row a case; faults left by seating stand on the error channel."""
    instrument = load(EXAMPLE / "clarinet.toml")
    fingerings = read_fingerings(EXAMPLE / "fingerings.csv")
    survey = read_survey(EXAMPLE / "keywork.csv")
    for case in range(count):
        rng = random.Random(1000 + case)
        scatter = 3.0 + case % 2
        flare = ("early", "middle", "late")[case % 3]
        keys = scattered(survey, rng, scatter)
        drawing = rebored(instrument, rng, flare)
        seated, placed = seat(drawing, keys)
        fitted, result = fit(seated, fingerings, keys)
        again, _ = fit(fitted, fingerings, keys)
        for finding in body_findings(seated, keys):
            if finding.severity is Severity.FAULT:
                print(f"case {case + 1}: {finding}", file=sys.stderr, flush=True)
        faults = sum(finding.severity is Severity.FAULT for finding in result.findings)
        after = result.after.summary
        held = [f"{each.what}: {each.rms_after:.1f}" for each in result.held_back[:1]] + [
            f"{note.fingering} {note.cents:+.0f}: {note.relaxations[0].limit}"
            for note in result.out_of_reach
            if note.relaxations
        ]
        steps = len(drawing.part("upper joint").bore) // 2 - 1
        print(
            f"| {case + 1} | {scatter:g} | {steps} | {flare} | {drawing.pitch.a4_hz:g} "
            f"| {placed.faults_before} → {placed.faults_after} "
            f"| {result.before.summary.rms_cents:.1f} → {after.rms_cents:.1f} "
            f"| {after.worst_cents:+.1f} {after.worst_note} | {faults} "
            f"| {moved_mm(fitted, again):.3f} | {'; '.join(held) or '–'} |",
            flush=True,
        )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 20)
