"""Hidden truths: faults planted in the fitted clarinet, and whether a diagnosis names them.

Run from the repository: ``python docs/cause_trials.py 40`` (about ten seconds a truth on two
cores) prints every truth and, at the end, the table of docs/playing.md; ``cause_stages.py``
follows the advice of ``correct`` on them. Seeds are the numbers of the truths. A truth's pitches
are the engine's full tuning of a changed instrument; the linear model that the diagnosis uses
plays no part in it.
"""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from importlib.resources import files

import numpy as np

from borewright.acoustics.side_holes import hole_level
from borewright.acoustics.tuning import tuning_at
from borewright.fit import fit
from borewright.model import (
    Climate,
    Doubts,
    Instrument,
    Use,
    dimensions,
    load,
    read_fingerings,
    read_survey,
)
from borewright.model.dimensions import read_values, with_values
from borewright.playing import MeasuredNote
from borewright.playing.causes.believed import believed
from borewright.playing.causes.evidence import Observations, Row
from borewright.playing.causes.next_reading import worths
from borewright.playing.causes.readings_to_take import candidates
from borewright.playing.causes.sounding import Sounding
from borewright.playing.causes.suspects import Suspect
from borewright.playing.causes.unknowns import PLAYER_CENTS

#: How often a fault of each kind is drawn, and its size (mm, mm³).
KINDS = {
    "diameter": (0.35, 0.25, 0.50),
    "all holes": (0.15, 0.10, 0.20),
    "bore": (0.10, 0.05, 0.10),
    "all bores": (0.08, 0.04, 0.08),
    "length": (0.12, 0.40, 0.90),  # of the barrel
    "chamber": (0.10, 200.0, 450.0),
    "lift": (0.10, 0.50, 1.00),  # always too little
}
#: A fault that moves no note by so much (cents) is drawn anew.
AUDIBLE_CENTS = 4.0
TAKES, NOTE_CENTS, TAKE_CENTS, HABIT_CENTS = 5, 3.0, 1.5, 1.5
#: What habit and model leave open of each note, the same in all takes.
STANDING_CENTS = 1.5
#: A cause below this probability is not told.
TOLD = 0.04
WORK_MM = 0.03  # how exactly advised work is done
#: Trial keys whose notes count for little.
SPARED = ("RV", "S4")


@dataclass
class Truth:
    """An instrument with faults, its player and its day."""

    seed: int
    instrument: Instrument
    faults: list[tuple[str, str, str, float]]
    off: np.ndarray  # every dimension's deviation (mm)
    climate: dict[str, float]
    noted_room_c: float
    player: float
    habits: dict[str, float]
    standing: np.ndarray
    rng: np.random.Generator


class Trial:
    """The fitted clarinet, in which truths are hidden."""

    def __init__(self) -> None:
        folder = files("borewright") / "examples" / "loan-clarinet"
        drawn, self.table = (
            load(folder / "clarinet.toml"),
            read_fingerings(folder / "fingerings.csv"),
        )
        self.design, _ = fit(drawn, self.table, read_survey(folder / "keywork.csv"))
        self.values = np.array(read_values(self.design))
        self.names = dimensions(self.design)
        self.counted = np.array([each.use is not Use.APART for each in self.table.fingerings])
        self.standard = np.array([each.use is Use.STANDARD for each in self.table.fingerings])
        self.plain = self.cents(self.design)

    def cents(self, instrument: Instrument, climate: dict[str, float] | None = None) -> np.ndarray:
        """Cents of every fingering; NaN where a note is lost."""
        if climate:
            changed = instrument.climate.model_copy(update=climate)
            instrument = instrument.model_copy(update={"climate": changed})
        table = tuning_at(instrument, self.table, hole_level(instrument, like=self.design))
        return np.array([np.nan if n.cents is None else n.cents for n in table.notes])

    def columns(self, kind: str, part: str, hole: str) -> list[int]:
        """Dimensions that a fault moves."""
        return [
            column
            for column, each in enumerate(self.names)
            if (kind == "all holes" and each.measure == "diameter")
            or (kind == "all bores" and each.measure == "bore_diameter"
                and each.part != "mouthpiece")
            or (kind == "bore" and each.measure == "bore_diameter" and each.part == part)
            or (kind == "length" and each.measure == "length" and each.part == part)
            or (kind in ("diameter", "lift") and each.hole == hole and each.measure == kind)
        ]  # fmt: skip

    def changed(self, off: np.ndarray, chamber_mm3: float, reed: dict[str, float]) -> Instrument:
        """The design with sizes, chamber and reed off."""
        made = with_values(self.design, self.values + off)
        mouthpiece, own = made.mouthpiece, made.reed
        assert mouthpiece is not None
        assert own is not None
        room = mouthpiece.chamber_mm3 + chamber_mm3
        return made.model_copy(
            update={
                "mouthpiece": mouthpiece.model_copy(update={"chamber_mm3": room}),
                "reed": own.model_copy(
                    update={key: getattr(own, key) + by for key, by in reed.items()}
                ),
            }
        )

    def fault(self, rng: np.random.Generator) -> tuple[str, str, str, float]:
        """One fault that can be heard."""
        rates = np.array([rate for rate, _, _ in KINDS.values()])
        while True:
            kind = str(rng.choice(list(KINDS), p=rates / rates.sum()))
            _, least, most = KINDS[kind]
            amount = float(rng.uniform(least, most) * rng.choice([-1, 1]))
            amount = -abs(amount) if kind == "lift" else amount
            part, hole = "", ""
            if kind in ("diameter", "lift"):
                offered = [
                    (p, h)
                    for p, h, _ in self.design.placed_holes()
                    if h.name not in SPARED and (kind == "diameter" or h.pad)
                ]
                owner, chosen = offered[int(rng.integers(len(offered)))]
                part, hole = owner.name, chosen.name
            elif kind == "bore":
                part = str(rng.choice(["barrel", "upper joint", "lower joint"]))
            elif kind == "length":
                part = "barrel"
            off = np.zeros(len(self.values))
            off[self.columns(kind, part, hole)] = amount
            heard = self.cents(self.changed(off, amount * (kind == "chamber"), {})) - self.plain
            if np.nanmax(np.abs(heard[self.counted])) >= AUDIBLE_CENTS:
                return kind, part, hole, amount

    def truth(self, seed: int) -> Truth:
        """One or two faults on top of the usual scatter of sizes and circumstances."""
        rng, usual = np.random.default_rng(seed), Doubts()
        faults: list[tuple[str, str, str, float]] = []
        wanted = 1 + int(rng.random() < 0.5)
        while len(faults) < wanted:
            found = self.fault(rng)
            if found[:3] not in [each[:3] for each in faults]:
                faults.append(found)
        measures = np.array([each.measure for each in self.names])
        off = np.zeros(len(self.values))
        for measure in sorted(set(measures.tolist())):
            columns = np.flatnonzero(measures == measure)
            spread = usual.of(measure)
            off[columns] += spread.common * rng.normal()
            off[columns] += spread.each * rng.normal(size=len(columns))
        # The ends of a bore are where the part ends.
        for column, each in enumerate(self.names):
            if each.measure == "bore_station":
                part = self.design.part(each.part)
                if not 0 < part.bore[each.index][0] < part.length_mm - 1e-9:
                    off[column] = 0.0
        for kind, part, hole, amount in faults:
            off[self.columns(kind, part, hole)] += amount
        spreads = usual.parameters
        chamber = sum(amount for kind, _, _, amount in faults if kind == "chamber")
        chamber += spreads["mouthpiece chamber"] * rng.normal()
        reed = {
            "equivalent_volume_mm3": spreads["reed equivalent volume"] * rng.normal(),
            "resonance_hz": spreads["reed resonance"] * rng.normal(),
        }
        room, own = float(rng.uniform(15, 28)), self.design.climate

        def passing(key: str, name: str, low: float, high: float) -> float:
            return float(np.clip(getattr(own, key) + spreads[name] * rng.normal(), low, high))

        climate = {
            "room_c": room,
            "reed_end_c": passing("reed_end_c", "reed-end temperature", 20, 40),
            "decay_mm": passing("decay_mm", "temperature decay length", 100, 1000),
            "relative_humidity": passing("relative_humidity", "relative humidity", 0, 1),
            "carbon_dioxide": passing("carbon_dioxide", "carbon dioxide", 0, 0.06),
        }
        registers = {each.register_.value for each in self.table.fingerings}
        return Truth(
            seed=seed,
            instrument=self.changed(off, chamber, reed),
            faults=faults,
            off=off,
            climate=climate,
            noted_room_c=room + 0.5 * rng.normal(),
            player=float(rng.uniform(-4, 4)),
            habits={name: HABIT_CENTS * rng.normal() for name in sorted(registers)},
            standing=STANDING_CENTS * rng.normal(size=len(self.table.fingerings)),
            rng=rng,
        )

    def takes(
        self, truth: Truth, instrument: Instrument, count: int = TAKES
    ) -> tuple[dict[str, MeasuredNote], float]:
        """Notes as measured from some takes, and the error that they share."""
        cents = self.cents(instrument, truth.climate) + truth.player + truth.standing
        cents += [truth.habits[each.register_.value] for each in self.table.fingerings]
        rng = truth.rng
        played = cents + rng.normal(0, NOTE_CENTS, (count, len(cents)))
        played += rng.normal(0, TAKE_CENTS, (count, 1))
        notes = {
            each.name: MeasuredNote(float(mean), NOTE_CENTS / np.sqrt(count))
            for each, mean, counts in zip(
                self.table.fingerings, played.mean(axis=0), self.counted, strict=True
            )
            if np.isfinite(mean) and (counts or each.name == "Bb4")
        }
        return notes, TAKE_CENTS / float(np.sqrt(count))

    def point(self, truth: Truth, sounding: Sounding) -> np.ndarray:
        """The truth as the vector of unknowns, to hold intervals against."""
        unknowns, own = sounding.unknowns, self.design
        found = np.zeros(unknowns.count)
        found[: len(truth.off)] = truth.off
        made, climate = truth.instrument, own.climate
        assert made.mouthpiece
        assert own.mouthpiece
        assert made.reed
        assert own.reed
        for name, by in {
            "room temperature": truth.climate["room_c"] - truth.noted_room_c,
            "reed-end temperature": truth.climate["reed_end_c"] - climate.reed_end_c,
            "temperature decay length": truth.climate["decay_mm"] - climate.decay_mm,
            "relative humidity": truth.climate["relative_humidity"] - climate.relative_humidity,
            "carbon dioxide": truth.climate["carbon_dioxide"] - climate.carbon_dioxide,
            "mouthpiece chamber": made.mouthpiece.chamber_mm3 - own.mouthpiece.chamber_mm3,
            "reed equivalent volume": made.reed.equivalent_volume_mm3
            - own.reed.equivalent_volume_mm3,
            "reed resonance": made.reed.resonance_hz - own.reed.resonance_hz,
        }.items():
            found[unknowns.parameter(name)] = by
        found[unknowns.player] = truth.player
        for register in unknowns.registers:
            found[unknowns.habit(register)] = truth.habits[register.value]
        return found


@dataclass
class Outcome:
    """Whether the first cause was a true one, before and after one reading; intervals that hold."""

    before: bool
    after: bool
    hold: list[bool]
    hold_faults: list[bool]


def judged(trial: Trial, truth: Truth) -> Outcome:
    """Diagnose a truth from its takes, take the one reading asked for, and judge again."""
    climate = Climate.model_validate(
        {**trial.design.climate.model_dump(), "room_c": truth.noted_room_c}
    )
    design = trial.design.model_copy(update={"climate": climate})
    notes, shared = trial.takes(truth, truth.instrument)
    sounding = Sounding(design, trial.table)
    usual = sounding.unknowns.usual(Doubts(), PLAYER_CENTS, room_known=True)
    observations = Observations(sounding, trial.table, notes, shared, [])
    belief = believed(design, observations, usual)
    true = [fault[:3] for fault in truth.faults]
    point = trial.point(truth, sounding)

    def first(found) -> bool:  # type: ignore[no-untyped-def]
        chances = [found.posterior.probability(k) for k in range(len(found.found))]
        return found.found[int(np.argmax(chances))].key in true

    def holds(suspect: Suspect, given: np.ndarray | None = None) -> bool:
        low, high = (belief.posterior.quantile(suspect.quantity, q, given) for q in (0.025, 0.975))
        return bool(low <= suspect.quantity @ point <= high)

    hold = [holds(suspect) for suspect in belief.found]
    # What a diagnosis tells of a cause is how much it is, if it is one.
    hold_faults = [
        holds(suspect, belief.posterior.having(k))
        for k, suspect in enumerate(belief.found)
        if suspect.key in true and belief.posterior.probability(k) >= TOLD
    ]
    usable = sounding.usable()
    slopes = np.full((len(trial.table.fingerings), len(point)), np.nan)
    slopes[usable] = sounding.at(np.zeros(len(point)), usable)[1]
    error = NOTE_CENTS / np.sqrt(TAKES)
    offered = candidates(design, trial.table, sounding, observations.rows, error, slopes)
    asked = worths(belief, offered)[0].candidate
    if asked.item == "takes":
        more, shared = trial.takes(truth, truth.instrument, 2 * TAKES)
        again = Observations(sounding, trial.table, more, shared, [])
    else:
        noise = np.sqrt(np.diag(asked.noise))
        read = asked.reads @ point + noise * truth.rng.normal(size=len(noise))
        rows = [
            Row(asked.words, reads, float(off), float(by))
            for reads, off, by in zip(asked.reads, read, noise, strict=True)
        ]
        again = Observations(sounding, trial.table, notes, shared, rows)
    outcome = Outcome(first(belief), first(believed(design, again, usual)), hold, hold_faults)
    told = ", ".join(f"{kind} {hole or part} {by:+.3g}" for kind, part, hole, by in truth.faults)
    print(truth.seed, told, "|", "first" if outcome.before else "not first", "|", asked.words, "|",
          "first" if outcome.after else "not first", flush=True)  # fmt: skip
    return outcome


def main() -> None:
    """Judge so many truths and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("truths", type=int)
    wishes = parser.parse_args()
    trial = Trial()
    outcomes = [judged(trial, trial.truth(seed)) for seed in range(wishes.truths)]
    hold = np.concatenate([each.hold for each in outcomes])
    faults = np.concatenate([each.hold_faults for each in outcomes])
    print(f"| {wishes.truths} truths, seeds 0 to {wishes.truths - 1} | |\n|---|---|")
    for words, share in (
        ("a true cause named first, from takes alone", np.mean([e.before for e in outcomes])),
        ("the same after the one reading it asked for", np.mean([e.after for e in outcomes])),
        ("95 % intervals that hold, of all that may be off", hold.mean()),
        ("the same of the planted causes, as the diagnosis tells them", faults.mean()),
    ):
        print(f"| {words} | {100 * share:.0f} % |")


if __name__ == "__main__":
    main()
