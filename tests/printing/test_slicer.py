"""A general slicer takes every part as it is handed over: whole, standing, nothing in the bore.

It is a tool of tests alone; ``make slicer`` installs it. Layers are coarse here, to be quick; the
manual's table is ``benchmarks/slicer.py``'s, in the layers that are printed.
"""

from __future__ import annotations

import sys
from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest

from borewright.printing import PRINTERS, estimate, material_named, plan_supports
from borewright.tasks.printing.printing import PrintWishes, print_file

sys.path.insert(0, str(Path(__file__).parents[2] / "tools"))
from slicing import info, slice_file

LAYER_MM = 0.3
CLARINET = Path(str(files("borewright") / "examples" / "loan-clarinet" / "clarinet.toml"))
TALL = PRINTERS["tall frame"]


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    return print_file(CLARINET, tmp_path_factory.mktemp("job"), PrintWishes(drawings=False))


@pytest.fixture(scope="module")
def sliced(job, tmp_path_factory):
    folder = tmp_path_factory.mktemp("sliced")
    return {
        part.part: slice_file(Path(part.three_mf), TALL, LAYER_MM, folder)
        for part in job.solids.parts
    }


def nearest_mm(beads, x, y):
    """Distance (mm) of every bead from an upright axis."""
    start, end = beads[:, 0:2] - (x, y), beads[:, 3:5] - (x, y)
    way = end - start
    length = np.maximum((way**2).sum(axis=1), 1e-12)
    share = np.clip(-(start * way).sum(axis=1) / length, 0.0, 1.0)
    return np.linalg.norm(start + share[:, None] * way, axis=1)


@pytest.mark.slow
def test_no_part_needs_mending(job):
    for file in [*(part.three_mf for part in job.solids.parts), *job.solids.beds]:
        found = info(Path(file))
        assert found["manifold"] == "yes", file
        assert not {"open_edges", "backwards_edges", "degenerate_facets", "edges_fixed",
                    "facets_removed", "facets_added", "facets_reversed"} & set(found)  # fmt: skip


@pytest.mark.slow
def test_every_part_is_sliced_as_it_stands_with_nothing_in_the_bore(job, sliced):
    for standing in job.standings:
        part, found = job.instrument.part(standing.part), sliced[standing.part]
        assert not {kind for kind in found.kinds if "Support" in kind}
        beads = found.beads
        assert beads[:, 5].max() == pytest.approx(standing.height_mm, abs=LAYER_MM)
        turned = standing.down == "bottom"
        end = part.length_mm + (part.tenon_bottom.length_mm if part.tenon_bottom else 0.0)
        top = part.tenon_top.length_mm if part.tenon_top else 0.0
        stations = end - beads[:, 5] if turned else beads[:, 5] - top
        radius = np.array([part.bore_diameter_at(s) / 2 for s in stations])
        free = np.ones(len(beads), dtype=bool)
        for hole in part.holes:  # a vent's lining stands in the bore, as drawn
            if hole.into_bore_mm:
                free &= abs(stations - hole.station_mm) > hole.diameter_mm / 2 + 3
        if part.socket_top:  # the sleeve stands in the socket, its lip under the bore
            free &= stations > part.socket_top.depth_mm
        if part.socket_bottom:
            free &= stations < part.length_mm - part.socket_bottom.depth_mm
        near = nearest_mm(beads, TALL.build_mm[0] / 2, TALL.build_mm[1] / 2)
        # A bead's middle keeps half its width from the wall; chords and layers take some back.
        assert (near - radius)[free].min() > 0.05, standing.part
        assert free.mean() > 0.3


@pytest.mark.slow
def test_time_and_mass_are_within_a_fifth_of_the_slicers(job, sliced):
    """Coarser than what is printed: the manual has 0.12, 0.15 and 0.2 mm."""
    layers = dict.fromkeys(sliced, LAYER_MM)
    supports = {
        one.part: plan_supports(job.instrument, job.instrument.part(one.part), one, TALL)
        for one in job.standings
    }
    ours = estimate(job.solids.parts, TALL, material_named("plain PLA"), layers, supports)
    for one in ours.parts:
        found = sliced[one.part]
        assert one.hours == pytest.approx(found.hours, rel=0.2), one.part
        laid = (one.volume_mm3 + one.support_mm3) / 1000
        assert laid == pytest.approx(found.volume_cm3, rel=0.03), one.part
