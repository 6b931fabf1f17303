"""Draw and solve the shapes that the holes' surrogate is built from and checked against.

``python tools/hole_samples.py FOLDER [--processes N] [--seconds S]`` solves shapes family by
family, in 3-D, and appends one line a shape to FOLDER/samples.jsonl; run again it goes on. Shapes
come from scrambled Sobol sequences with fixed seeds, so that every run draws the same ones.
The shapes are those of ``tools/hole_shapes.py``.

A hole is taken apart where one part no longer feels the other: the junction with the bore, the
tube up to its rim plane, the outside. So a family has few dimensions:

- inner: junction of a plain or undercut hole in a cylindrical bore, rim plane open and closed;
- cone: the same in a conical bore; lined: with a tube that stands into the bore;
- finger: closed by a finger's flesh;
- drilled, raised, raised_pad, sunk, sunk_pad: outside of a hole on a tube of its own.

``fresh``, ``held`` and ``unseen`` are whole holes, open and closed, solved as ``solve_hole``
does: the checks.
"""

from __future__ import annotations

import argparse
import importlib
import json
import math
import os
import sys
import time
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import asdict
from multiprocessing import get_context
from pathlib import Path
from typing import Any

from hole_shapes import BODY_MM, COUNTS, shapes_of

from borewright.acoustics.solved.mesh_detail import MeshDetail
from borewright.acoustics.solved.shape import HoleShape

#: kR of the wave that rises are read at: 0.03/mm on that body.
RISE_AT_BODY = 0.444
#: Tube (radii of the hole) below the rim plane of the outside's families.
TUBE = 1.6

Row = dict[str, Any]


def solved(family: str, shape: HoleShape) -> Row:
    """What the 3-D solution says of one shape of a family."""
    if family in ("fresh", "held", "unseen"):
        return _whole(shape)
    if family in ("inner", "cone", "lined", "finger"):
        return _inside(family, shape)
    return _outside(shape)


def _whole(shape: HoleShape) -> Row:
    from borewright.acoustics.solved.solving import solve_hole

    return {state: asdict(solve_hole(shape, state, check=False)) for state in ("open", "closed")}


def _inside(family: str, shape: HoleShape) -> Row:
    """Junction and tube up to the rim plane, with zero pressure there and closed."""
    from borewright.acoustics.solved._air import inner_air
    from borewright.acoustics.solved._attempts import on_sound_mesh
    from borewright.acoustics.solved._network import closed_lengths, open_lengths
    from borewright.acoustics.solved._potential import conductances
    from borewright.acoustics.solved._rising import RISE_AT, rise_mm3
    from borewright.acoustics.solved.hole_volume import hole_volume
    from borewright.acoustics.solved.solving import _meshed_volume, _section

    detail = MeshDetail()
    section, detail = _section(shape, detail)
    finger = family == "finger"
    expected = hole_volume(shape, "closed")

    def solve(mesh: Any) -> Row:
        closed = conductances(mesh, detail.order, filling=True)
        series, shunt, volume = closed_lengths(shape, section, closed, expected.displaced)
        row = {"series_closed": series, "shunt_closed": shunt, "volume": volume}
        if finger:
            return row
        opened = conductances(mesh, detail.order, sink=True)
        series, shunt = open_lengths(shape, section, opened)
        row |= {"series_open": series, "shunt_open": shunt}
        if not shape.is_conical:
            rise = rise_mm3(mesh, shape, section, math.inf, expected.displaced, zero="rim")
            row |= {"rise": rise, "rise_at": RISE_AT}
        return row

    return on_sound_mesh(
        lambda: inner_air(shape, section, finger=finger),
        solve,
        shape,
        detail,
        volume_mm3=_meshed_volume(shape, section, expected),
    )


def _outside(shape: HoleShape) -> Row:
    """Length beyond the rim plane of a hole on a tube of its own, and how it rises."""
    import ngsolve as ng
    from netgen import occ

    from borewright.acoustics.solved._air import _cut_to_symmetry, far_radius_mm, outer_air
    from borewright.acoustics.solved._attempts import on_sound_mesh

    detail = MeshDetail()
    b = shape.radius_mm
    far = far_radius_mm(shape, detail.outer_end)
    start = shape.rim_mm - TUBE * b
    k = RISE_AT_BODY / BODY_MM
    area = math.pi * b**2

    def air() -> Any:
        tube = occ.Cylinder(occ.Pnt(0, 0, start), occ.Z, r=b, h=TUBE * b, bottom="lower")
        return outer_air(shape, far, _cut_to_symmetry(tube, shape))

    def length(mesh: Any, wave: float, order: int) -> float:
        """Of the impedance at the rim plane over j w rho / area."""
        space = ng.H1(mesh, order=order, complex=wave > 0)
        trial, test = space.TnT()
        form = (ng.grad(trial) * ng.grad(test) - wave**2 * trial * test) * ng.dx
        out = 1j * wave + 1.0 / far if wave else 1.0 / far
        form += out * trial * test * ng.ds("far")
        matrix = ng.BilinearForm(form, symmetric=True, condense=True).Assemble()
        lower = mesh.Boundaries("lower")
        free = space.FreeDofs(coupling=True) & ~space.GetDofs(lower)
        pressure = ng.GridFunction(space)
        pressure.Set(1.0, definedon=lower)
        residual = pressure.vec.CreateVector()
        residual.data = -1.0 * (matrix.mat * pressure.vec)
        pressure.vec.data += matrix.mat.Inverse(free, inverse="sparsecholesky") * residual
        flow = pressure.vec.CreateVector()
        flow.data = matrix.mat * pressure.vec
        if wave == 0:
            return area / (4 * float(ng.InnerProduct(flow, pressure.vec))) - TUBE * b
        found = 4 * complex(ng.InnerProduct(flow, pressure.vec, conjugate=False))
        # Pressure 1, inward slope found / area at the tube's start; at the rim plane:
        slope, run = found / area, TUBE * b
        at_rim = math.cos(wave * run) - slope / wave * math.sin(wave * run)
        inward = wave * math.sin(wave * run) + slope * math.cos(wave * run)
        return float((at_rim / inward).real)

    def solve(mesh: Any) -> Row:
        long = length(mesh, 0.0, detail.order)
        rising = (length(mesh, k, 2) - length(mesh, 0.0, 2)) / k**2
        return {"outside": long, "rise": rising, "k": k}

    return on_sound_mesh(air, solve, shape, detail, volume_mm3=None)


def _ready() -> None:
    """Only one of the two kernels of solids is wanted here, and its names come first."""
    importlib.import_module("netgen.occ")


def _job(family: str, number: int, shape: HoleShape) -> Row:
    started = time.perf_counter()
    row: Row = {"family": family, "number": number, "shape": asdict(shape)}
    try:
        row["found"] = solved(family, shape)
    except Exception as error:
        row["problem"] = f"{type(error).__name__}: {error}"[:300]
    row["seconds"] = round(time.perf_counter() - started, 3)
    return row


def main() -> None:
    """Solve what is missing, a slice of every family in turn."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", type=Path)
    parser.add_argument("--processes", type=int, default=os.cpu_count())
    parser.add_argument("--seconds", type=float, default=math.inf)
    parser.add_argument("--families", nargs="*", default=list(COUNTS))
    parser.add_argument("--known", type=Path, nargs="*", default=[])
    given = parser.parse_args()
    end = time.monotonic() + given.seconds
    path = given.folder / "samples.jsonl"
    done: set[tuple[str, int]] = set()
    for known in [path, *given.known]:
        if known.exists():
            rows = (json.loads(line) for line in known.read_text(encoding="utf-8").splitlines())
            done |= {(row["family"], row["number"]) for row in rows}
    jobs = []
    for family in given.families:
        shapes = shapes_of(family)
        for place, (number, shape) in enumerate(shapes):
            if (family, number) not in done:
                jobs.append((place / len(shapes), family, number, shape))
    jobs.sort(key=lambda job: job[:2])
    print(f"{len(done)} known, {len(jobs)} to solve", flush=True)
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "NGS_NUM_THREADS"):
        os.environ[name] = "1"
    pool = ProcessPoolExecutor(given.processes, mp_context=get_context("spawn"), initializer=_ready)
    waiting = {pool.submit(_job, *job[1:]) for job in jobs}
    count, told = 0, time.monotonic()
    with path.open("a") as file:
        try:
            left = None if math.isinf(end) else max(end - time.monotonic(), 1)
            for future in as_completed(waiting, timeout=left):
                file.write(json.dumps(future.result()) + "\n")
                file.flush()
                count += 1
                if time.monotonic() - told > 30:
                    told = time.monotonic()
                    print(f"{count} solved", flush=True)
        except TimeoutError:
            print("time is up", flush=True)
    print(f"{count} solved", flush=True)
    for process in list(pool._processes.values()):
        process.kill()
    sys.stdout.flush()
    os._exit(0)


if __name__ == "__main__":
    main()
