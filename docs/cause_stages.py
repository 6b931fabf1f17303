"""Hidden truths followed through three stages of advice, and what becomes of the true instrument.

Run from the repository: ``python docs/cause_stages.py 40`` (a quarter of a minute a truth). The
truths are those of ``cause_trials.py``. In every stage the same player records five takes, takes
the readings that ``correct`` asks for, and does what it advises, to 0.03 mm; earlier takes are
carried over. What counts is the true instrument, without its player, in the design's climate.
"""

from __future__ import annotations

import argparse

import numpy as np
from cause_trials import WORK_MM, Trial, Truth

from borewright.model import Climate, Instrument
from borewright.model.results.advice import CorrectionStep, OpenQuestion
from borewright.playing import Aim, MeasuredNote, as_built, at_design_climate, corrections
from borewright.playing.applying import with_steps
from borewright.playing.carrying import EarlierTakes, readings_after, with_earlier
from borewright.playing.causes.evidence import GAUGE
from borewright.playing.causes.sounding import Sounding
from borewright.playing.moves import moves, with_neutral_undercuts
from borewright.playing.readings import Item, Reading, reading

STAGES, MOST_READINGS = 3, 4
#: The player's own pitch is even within 4 cents.
PLAYER_CENTS = 2.3
#: Errors of a known instrument's takes: what all registers share, and what each adds (cents).
KNOWN_SHARED, KNOWN_EACH = 0.8, 0.65


class Bench:
    """One instrument on the bench: what is done to it and what is known of it."""

    def __init__(self, trial: Trial, truth: Truth) -> None:
        self.trial, self.truth = trial, truth
        self.made = truth.instrument
        self.steps: list[CorrectionStep] = []
        self.before: list[tuple[Reading, int]] = []  # with the number of steps done by then
        self.minutes = 0.0
        ready = with_neutral_undercuts(trial.design)
        self.alike = [move.hole for move in moves(ready, [], Aim.REWORK)
                      if move.kind == "diameter" and move.high >= 0.15]  # fmt: skip
        climate = Climate.model_validate(
            {**trial.design.climate.model_dump(), "room_c": truth.noted_room_c}
        )
        there = trial.design.model_copy(update={"climate": climate})
        self.sounding = Sounding(there, trial.table)
        self.point = trial.point(truth, self.sounding)

    def rms(self) -> float:
        """Of the true instrument's standard notes, in the design's room and warmth."""
        passing = ("room_c", "reed_end_c")
        lasting = {key: value for key, value in self.truth.climate.items() if key not in passing}
        cents = self.trial.cents(self.made, lasting)[self.trial.standard]
        return float(np.sqrt(np.nanmean(cents**2)))

    def readings(self) -> list[Reading]:
        """As they would read now."""
        return [
            readings_after([each], self.steps[done:], self.alike)[0] for each, done in self.before
        ]

    def known(self, steps: int) -> Instrument:
        """What the maker knows of the instrument after so many steps."""
        at_first = [
            each.model_copy(
                update={"value": 2 * each.value
                        - readings_after([each], self.steps[:done], self.alike)[0].value}
            )
            for each, done in self.before
        ]  # fmt: skip
        built = as_built(self.trial.design, self.trial.table, at_first).instrument
        climate = {"reed_end_c": self.trial.design.climate.reed_end_c}
        built = built.model_copy(update={"climate": built.climate.model_copy(update=climate)})
        return with_steps(built, self.steps[:steps], Aim.REWORK) if steps else built

    def read(self, asked: OpenQuestion) -> None:
        """Take one of the readings that a plan asks for, with its usual error."""
        rng, made = self.truth.rng, self.made
        self.minutes += asked.minutes
        found: list[Reading] = []
        if asked.item == Item.PLAYER:
            shared = KNOWN_SHARED * rng.normal()
            for register in self.sounding.unknowns.registers:
                reads = self.sounding.known_reads(register)
                if reads.any():
                    value = float(reads @ self.point) + shared + KNOWN_EACH * rng.normal()
                    found.append(reading("player", value, part=register.value))
        elif asked.item == Item.CHAMBER:
            assert made.mouthpiece
            value = made.mouthpiece.chamber_mm3 + GAUGE[Item.CHAMBER] * rng.normal()
            found.append(reading("chamber", value))
        elif asked.item == Item.REED_END:
            value = self.truth.climate["reed_end_c"] + GAUGE[Item.REED_END] * rng.normal()
            found.append(reading("reed_end", value))
        else:
            found += self._gauged(asked)
        self.before += [(each, len(self.steps)) for each in found]

    def _gauged(self, asked: OpenQuestion) -> list[Reading]:
        item, made, rng = Item(asked.item), self.made, self.truth.rng
        error = GAUGE[item]
        if item in (Item.LENGTH, Item.BORE):
            parts = [asked.part] if asked.part else [each.name for each in made.parts]
            found = []
            for name in parts:
                part = made.part(name)
                station = asked.station_mm or round(part.length_mm / 2)
                value = part.length_mm if item is Item.LENGTH else part.bore_diameter_at(station)
                place = {} if item is Item.LENGTH else {"station_mm": station}
                found.append(reading(item, value + error * rng.normal(), part=name, **place))
            return found
        found = []
        for part, hole, _ in made.placed_holes():
            if asked.hole in ("", hole.name) and part.name == asked.part:
                lift = hole.pad.lift_mm if hole.pad else 0.0
                value = {Item.DIAMETER: hole.diameter_mm, Item.LIFT: lift,
                         Item.HEIGHT: part.tube_height_mm(hole)}[item]  # fmt: skip
                found.append(reading(item, value + error * rng.normal(), hole=hole.name))
        return found

    def do(self, now: list[CorrectionStep]) -> None:
        """Do steps, as exactly as work is done."""
        rng = self.truth.rng
        done = [each.model_copy(update={"by_mm": each.by_mm + WORK_MM * rng.normal()})
                for each in now]  # fmt: skip
        self.made = with_steps(self.made, done, Aim.REWORK)
        self.steps += now


def followed(trial: Trial, truth: Truth) -> tuple[list[float], float]:
    """True root mean square (cents) before and after each stage, and minutes of readings."""
    bench = Bench(trial, truth)
    found = [bench.rms()]
    story: list[tuple[dict[str, MeasuredNote], float, int]] = []
    for _ in range(STAGES):
        notes, shared = trial.takes(truth, bench.made)
        story.append((notes, shared, len(bench.steps)))
        for reading_number in range(MOST_READINGS + 1):
            count = len(bench.steps)
            known = bench.known(count)
            carried = [
                (at_design_climate(bench.known(then), trial.table, each, truth.noted_room_c), own,
                 then)
                for each, own, then in story
            ]  # fmt: skip
            newest, own, _ = carried[-1]
            earlier = [
                EarlierTakes(bench.known(then), each, error) for each, error, then in carried[:-1]
            ]
            measured, shared = with_earlier(known, trial.table, newest, own, earlier)
            plan = corrections(
                known, trial.table, measured, readings=bench.readings(),
                common_error_cents=float(np.hypot(PLAYER_CENTS, shared)),
            )  # fmt: skip
            offered = [each for each in plan.open_questions if each.item in set(Item)]
            if reading_number == MOST_READINGS or not offered:
                break
            bench.read(offered[0])
        now = [step for step in plan.steps if step.stage == plan.steps[0].stage]
        if not now:
            break
        bench.do(now)
        found.append(bench.rms())
    return found, bench.minutes


def main() -> None:
    """Follow so many truths and print what becomes of them."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("truths", type=int)
    wishes = parser.parse_args()
    trial = Trial()
    ways, minutes = [], []
    for seed in range(wishes.truths):
        way, spent = followed(trial, trial.truth(seed))
        ways.append(way)
        minutes.append(spent)
        print(seed, "rms", " ".join(f"{each:.1f}" for each in way), f"{spent:.0f} min", flush=True)
    first, last = (np.array([way[at] for way in ways]) for at in (0, -1))
    good, far = (last <= first / 2) | (last < 2.5), first >= 5
    for words, value in (
        ("true rms before, after (cents, mean)", f"{first.mean():.1f}, {last.mean():.1f}"),
        ("halved, or below 2.5 cents", f"{100 * good.mean():.0f} %"),
        ("the same of those that began at 5 cents or more", f"{100 * good[far].mean():.0f} %"),
        ("below 3.5 cents at the end", f"{100 * np.mean(last < 3.5):.0f} %"),
        ("worse by more than 0.5 cents", f"{100 * np.mean(last > first + 0.5):.0f} %"),
        ("minutes of readings (mean)", f"{np.mean(minutes):.0f}"),
    ):
        print(f"| {words} | {value} |")


if __name__ == "__main__":
    main()
