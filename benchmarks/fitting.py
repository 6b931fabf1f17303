"""How long a fit and a family of designs take, warm, within one process.

    python benchmarks/fitting.py [TIMES]

The shipped clarinet at its own level (side holes and bell in 3-D), with its keys: the first fit
compiles and solves, those after it are warm. Written for two cores; state the load beside it.
"""

from __future__ import annotations

import os
import sys
import time
from importlib.resources import files

from borewright.fit import fit
from borewright.fit.choices import design_family
from borewright.model import load, read_fingerings, read_keys, read_survey
from borewright.model.keys import points_of

EXAMPLE = files("borewright") / "examples" / "loan-clarinet"


def timed(work, times: int) -> tuple[list[float], list[float], object]:
    """Seconds and seconds of processor of each call, and the last answer."""
    walls, processor, answer = [], [], None
    for _ in range(times):
        wall, used = time.perf_counter(), time.process_time()
        answer = work()
        walls.append(time.perf_counter() - wall)
        processor.append(time.process_time() - used)
    return walls, processor, answer


def main(times: int) -> None:
    """Print one line for the fit and one for the family."""
    instrument = load(EXAMPLE / "clarinet.toml")
    table = read_fingerings(EXAMPLE / "fingerings.csv")
    keys = points_of(read_keys(EXAMPLE / "keys.csv"), read_survey(EXAMPLE / "keywork.csv"))
    first, _, _ = timed(lambda: fit(instrument, table, keys), 1)
    print(f"first fit of this process: {first[0]:.1f} s; load {os.getloadavg()[0]:.1f}")
    for name, work in (
        ("fit", lambda: fit(instrument, table, keys)),
        ("family of ten designs", lambda: design_family(instrument, table, keys)),
    ):
        if name != "fit":
            work()  # its own kernels
        walls, used, _ = timed(work, times)
        print(
            f"{name}, warm: {min(walls):.2f} to {max(walls):.2f} s, "
            f"{min(used):.2f} s of processor; load {os.getloadavg()[0]:.1f}"
        )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
