"""Write docs/commands.md from the command line's own help, so that it cannot fall behind it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import typer
from typer.testing import CliRunner

from borewright.cli import app

PAGE = Path(__file__).parent / "commands.md"

INTRODUCTION = """# Commands

Written by `python docs/make_reference.py` from the help of every command; do not edit.

## What all commands share

- An instrument's file may name its fingering table and its keywork survey, relative to its own
  folder; `--fingerings` and `--keywork` go before them.
- With `--json` the answer is one JSON document on standard output. Progress and messages go to
  standard error; progress is shown at a terminal only.
- Wrong input gets one line, `borewright: place: cause. remedy`, and the exit code 2. With
  `--json` the same message comes on standard output, in this shape for every command:

  ```json
  {"error": {"kind": "ModelError", "place": "…", "cause": "…", "remedy": "…"}}
  ```

| exit code | meaning |
|---|---|
| 0 | done; `check` found no fault |
| 1 | `check` or `print` found faults |
| 2 | wrong input, or a command that cannot be meant |
| 130 | stopped by Ctrl-C; `fit` has saved the best so far |

| command | keys of its JSON |
|---|---|
| `tune` | `notes` (each `written`, `register`, `fingering`, `open_holes`, `use`, `target_hz`, `sounding_hz`, `cents`, `status`), `twelfths` (`low`, `high`, `stretch_cents`), `summary` (`rms_cents`, `worst_cents`, `worst_note`), `model_level`, `climate`; with `--error-bars` also `error_bars` (`bars`, each `fingering`, `total_cents`, `dimensions_cents`, `climate_cents`, `player_cents`, `model_cents`; `method`, `model_level`) |
| `climates` | `rooms` (by name, each as `tune`), `warm_up` (each `minutes`, `reed_end_c`, `mean_cents` by register), `effects` (each `parameter`, `unit`, `cents_per_unit` by register) |
| `sensitivity` | `fingerings`, `dimensions`, `cents_per_tenth_mm` (a row a fingering, a column a dimension), `model_level`, `climate` |
| `reference` | `instrument`, `fingering`, `open_holes`, `reference_hz`, `closed_forms_hz`, `cents`, `unknowns`, `seconds` |
| `fit` | `before` and `after` (as `summary` above), `moved` (`part`, `hole`, `dimension`, `measure`, `from`, `to`, `drawn`, `limit`), `out_of_reach` (`fingering`, `cents`, `tolerance_cents`, `relaxations`, `advice`), `held_back` (`what`, `rms_after`, `worst_after`, `notes`), `also` (the tuning in the further states of `fit.also`), `findings`, `finished`, `rounds`, `hole_solutions`, `seconds`, `output`, `report` |
| `stand` | `moved` (each `hinge`, `along_mm`, `round_deg`, `out_mm`), `posts` (each `post`, `hinge`, `part`, `station_mm`, `bearing_deg`, `foot_mm`, `height_mm`, `depth_mm`, `drill`, `off_square_deg`, `lean_down_deg`, `lean_left_deg`), `faults_before`, `faults_after`, `findings`, `output` |
| `yield` | `good` (`count`, `of`, `low`, `high`), `good_percent`, `beyond`, `lost`, `notes_off`, `notes` (each `fingering`, `design_cents`, `scatter_cents`, `off`), `design_off`, `kinds` and `singles` (each `what`, `measure`, `dimension`, `together`, `scatter_mm`, `variance_share`, `perfect`), `telling`, `telling_share`, `outlook` (`instruments`, `mean`, `low`, `high`), `allotment` (`wanted`, `reached`, `kinds`, `share`), `first_order`, `first_order_rms_cents`, `precision_cents`, `curve` (cents, share), `making`, `now`, `ways`, `cheapest`, `best` (each `name`, `what`, `what_if`, `notes_off`, `beyond`, `checked_cents`, `cost`), `currency`, `digest`, `notes`, `kept`, `files` |
| `batch-fit` | `nominal` and `batch` (each `rms_cents`, `worst_cents`, `worst_note`, `share`), `gained`, `sure`, `better`, `weights`, `rounds`, `within_cents`, `builds`, `notes`, `output` |
| `siblings` | `bodies` (each `name`, `a4_hz`, `semitones`, `held`, `factor`, `rms_cents`, `worst_cents`, `worst_note`, `outside`, `body_mm`, `barrel_mm`, `bell_mm`, `keys`: each `hinge`, `holes`, `along_mm`, `stretch_mm`, `anew`), `files` |
| `try-bores` | `features` (each `part`, `measure`, `from_mm`, `to_mm`), `designs` (each `number`, `changes_mm`, `rms_cents`, `worst_cents`, `worst_note`, `strength_step_db`, `cutoff_step_hz`, `faults`, `best`), `emulator_errors`, `files` |
| `solids` | `parts` (each `part`, `step`, `stl`, `3mf`, `volume_mm3`, `watertight`, `valid`, `bounding_box_mm`), `assembly`, `beds` (files of several parts on one bed, from `print`) |
| `character` | `notes` (each with `peaks`, `sounding_peak`, `alignment_cents`, `lattice`, `radiated_at_pitch`, `bell_share`, `bands`, `venting`, `words`), `evenness`, `twelfths`, `measures` (each figure's `definition`, `source`, `basis`), `highest_hz`, `balance_error`, `curves` (over frequency, with `--note`), `pictures` |
| `differences` | `first`, `second`, `notes` (each `fingering`, `differences`, `size`, `words`), `registers`, `twelfths` (cents wider in the second), `sentences`, `units`, `steps`, `only_first`, `only_second`, `first_table` and `second_table` (as `character`), `pictures` |
| `check` | `findings` (each `severity`, `place`, `what`, `remedy`), `faults`, `notices` |
| `takes` | `takes` (each `file`, `seconds`, `notes`, `missing`, `notices`; a note has `name`, `status`, `hz`, `cents`, `spread_cents`, `drift_cents_per_s`, `vibrato_hz`, `level_db`, `tone` and times), `pulled`, `output`, `pictures` |
| `as-built` | `applied` (`what`, `from_mm`, `to_mm`), `leaks`, `notices`, `parameters` (`name`, `value` with `low` and `high`), `left_cents`, `design` (as `summary` above), `as_built` (as `tune`), `pulled`, `output` |
| `diagnose` | `causes` (each `words`, `kind`, `part`, `hole`, `probability`, `odds`, `amount` with `low` and `high`, `unit`, `most_note`, `most_cents`), `nothing`, `player_cents`, `contradictions`, `next_readings` (each `words`, `item`, `part`, `hole`, `minutes`, `right_now`, `right_after`, `bits`), `notes`, `readings`, `model_level`, `climate` |
| `correct` | `aim`, `steps` (each `words`, `stage`, `kind`, `part`, `hole`, `by_mm`, `uncertainty_mm`, its limits and `effects_cents`), `fingerings`, `measured_cents`, `uncertainty_cents`, `believed_cents`, `believed_error_cents`, `after_cents`, `beside` (each `fingering`, `by_cents`), `rms_before_cents`, `rms_after_cents`, `remaining`, `reason_for_stopping` |
| `compare` | with two names `verdict`, `sentence`, `differences`, `notes`, `pairs`, `pairs_advised`; with notes alone `offsets`, `mouthpieces`, `scatter`, `takes_advised`; with `--blind` `sheet`, `key`, `takes`, `pairs` |
| `bore measure` | `parts` (each `name`, `segments`, `breaks`, `profile`, `readings`, `scatter_mm`, `inflation`, `notices`), `output`, `pictures` |
| `bore overlay` | `bores`, `rows` (`station_mm`, `diameter_mm`, `wider_mm`), `mean_wider_mm`, `most_wider_mm`, `pictures` |
| `bore blend` | `fractions`, `features`, `first_table`, `second_table`, `blended`, `refitted` (as `tune`), `paying` (`hole`, `part`, `steps`, `moves`, `limit`), `out_of_reach`, `findings`, `character`, `output`, `pictures` |
| `bore perturb` | `fingerings`, `registers`, `stations`, `cents` (a row a fingering, a column a station), `widening_mm`, `pictures` |
| `barrels`, `bells` | `in_place`, `members` (each `name`, `shape`, sizes, `bore`, `pitch_cents`, `by_register`, `twelfths_cents`, `rms_cents`), `chosen` (`member`, `wanted_cents`, `misses_by_cents`), `reach_cents`, `notices`, `pictures` |
"""  # noqa: E501


def page() -> str:
    """The whole page."""
    blocks = [INTRODUCTION]
    for words in _commands(typer.main.get_command(app)):
        title = " ".join(["borewright", *words])
        blocks.append(f"## {title}\n\n```text\n{_help(words)}\n```\n")
    return "\n".join(blocks)


def _commands(command: Any) -> Iterator[list[str]]:
    """Words of a command and of every command below it."""
    yield []
    for name, below in getattr(command, "commands", {}).items():
        for words in _commands(below):
            yield [name, *words]


def _help(words: list[str]) -> str:
    # A fixed width, so that the page does not depend on somebody's terminal.
    result = CliRunner().invoke(
        app, [*words, "--help"], prog_name="borewright", env={"COLUMNS": "80"}
    )
    return "\n".join(line.rstrip() for line in result.stdout.strip().splitlines())


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    print(f"{PAGE.name}: {len(page().splitlines())} lines")
