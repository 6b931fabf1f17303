"""Collars, sleeves and brims: from bed to ceiling, touching nothing, and in the files."""

from __future__ import annotations

import itertools
import math
import zipfile
from xml.etree import ElementTree

import numpy as np
import pytest
import trimesh

from borewright.model import Socket, Tenon
from borewright.printing import (
    PRINTERS,
    plan_layout,
    plan_supports,
    standings,
    support_advice,
)
from borewright.solids import export_solids, outlines, support_volume_mm3
from borewright.solids.supports import support_mesh

CORE = "{http://schemas.microsoft.com/3dmanufacturing/core/2015/02}"
TALL = PRINTERS["tall frame"]


def planned(instrument, name):
    part = instrument.part(name)
    standing = standings(instrument, part, TALL)[0]
    return part, standing, plan_supports(instrument, part, standing, TALL)


def test_every_part_of_the_example_is_carried(clarinet):
    found = {
        part.name: [one.name for one in planned(clarinet, part.name)[2]] for part in clarinet.parts
    }
    assert found == {
        "barrel": ["sleeve"], "upper joint": ["collar"], "lower joint": ["collar"], "bell": [],
    }  # fmt: skip
    for part in clarinet.parts:
        own, standing, supports = planned(clarinet, part.name)
        advice = " ".join(map(str, support_advice(own, standing, TALL, supports)))
        assert "switched off" in advice
        assert "Support under" not in advice


def radius_at(going_up, height, pick):
    """Radius (mm) of an outline from the bed upwards, at a height; ``pick`` where it steps."""
    found = []
    for (r0, z0), (r1, z1) in itertools.pairwise(going_up):
        if z0 - 1e-9 <= height <= z1 + 1e-9:
            share = 0.0 if z1 == z0 else (height - z0) / (z1 - z0)
            found.append(r0 + share * (r1 - r0))
    return pick(found)


@pytest.mark.parametrize("name", ["barrel", "upper joint", "lower joint"])
def test_supports_keep_off_the_part_but_for_the_brim(clarinet, name):
    part, standing, (support,) = planned(clarinet, name)
    outside, inside = outlines(part, clarinet)
    low, high = outside[0][1], outside[-1][1]
    turned = standing.down == "bottom"
    walls = [
        [(r, high - s) for r, s in each[::-1]] if turned else [(r, s - low) for r, s in each]
        for each in (outside, inside)
    ]
    top = max(z for _, z in support.outline)
    radii = [r for r, z in support.outline if z > 1.0]
    for height in np.linspace(0.5, top, 60):
        if support.name == "collar":
            # Half a millimetre, less where the tenon's root is rounded under the shoulder.
            assert min(radii) - radius_at(walls[0], height, max) >= 0.35
        else:
            assert radius_at(walls[1], height, min) - max(radii) >= 0.45
    # Right under the ceiling: a fifth of a millimetre of air.
    if support.name == "collar":
        assert radius_at(walls[0], top + 0.2 + 1e-6, max) >= max(radii) - 1e-6
        foot = walls[0][0][0]
        # The brim joins the foot: at half its height it is nearer than a bead is squeezed.
        near = min(r for r, z in support.outline if z == 0) - radius_at(walls[0], 0.1, max)
        assert foot + 0.02 < foot + near < foot + 0.15
        assert max(r for r, z in support.outline if z == 0) == pytest.approx(max(radii) + 8)
    else:
        assert radius_at(walls[1], top + 0.2 + 1e-6, min) <= max(radii)
        # It stays in the socket: none of it comes into the bore.
        assert top < part.socket_top.depth_mm


def test_volume_and_mesh_are_those_of_a_slit_ring(clarinet):
    _, _, (sleeve,) = planned(clarinet, "barrel")
    (inner, _), (outer, _), (_, high), _ = sleeve.outline
    ring = math.pi * (outer**2 - inner**2) * high * 345 / 360
    assert support_volume_mm3(sleeve) == pytest.approx(ring, rel=1e-12)
    mesh = support_mesh(sleeve)
    a, b, c = (mesh.vertices[mesh.triangles[:, k]].astype(float) for k in range(3))
    meshed = float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum()) / 6
    assert meshed == pytest.approx(ring, rel=2e-3)
    _, _, (collar,) = planned(clarinet, "upper joint")
    brim, wall = math.pi * (22.8**2 - 11.43**2) * 0.2, math.pi * (14.8**2 - 12.0**2) * 20.6
    assert support_volume_mm3(collar) == pytest.approx((brim + wall) * 345 / 360, rel=1e-9)


@pytest.mark.parametrize("end", ["top", "bottom"])
def test_a_part_and_its_support_are_one_object_of_the_file(one_part, tmp_path, end):
    """Two closed shells, both on the bed, about one axis: nothing can part them there."""
    instrument = one_part(**{f"tenon_{end}": Tenon(length_mm=16, diameter_mm=22)})
    part, printer = instrument.parts[0], TALL
    standing = next(one for one in standings(instrument, part, printer) if one.down == end)
    supports = plan_supports(instrument, part, standing, printer)
    assert [one.name for one in supports] == ["collar"]
    layout = plan_layout([standing], printer, {}, {"joint": supports})
    report = export_solids(instrument, tmp_path, layout=layout)
    with zipfile.ZipFile(report.parts[0].three_mf) as archive:
        root = ElementTree.fromstring(archive.read("3D/3dmodel.model"))
    (item,) = root.iter(f"{CORE}item")
    (body,) = root.iter(f"{CORE}object")
    matrix = np.array([float(v) for v in item.get("transform").split()]).reshape(4, 3)
    corners = np.array([[float(v.get(a)) for a in "xyz"] for v in body.iter(f"{CORE}vertex")])
    faces = [[int(t.get(a)) for a in ("v1", "v2", "v3")] for t in body.iter(f"{CORE}triangle")]
    whole = trimesh.Trimesh(corners @ matrix[:3] + matrix[3], faces)
    shells = sorted(whole.split(), key=lambda each: each.extents[2])
    assert [shell.is_watertight and shell.volume > 0 for shell in shells] == [True, True]
    assert [shell.bounds[0][2] for shell in shells] == pytest.approx([0.0, 0.0], abs=1e-4)
    collar, _ = shells
    # Volume by the closed form, chords of 0.004 mm apart.
    assert collar.volume == pytest.approx(support_volume_mm3(supports[0]), rel=2e-3)
    assert collar.extents[2] == pytest.approx(15.8, abs=1e-3)
    assert collar.bounds.mean(axis=0)[:2] == pytest.approx([110.0, 110.0], abs=0.5)


def test_what_no_body_of_ours_can_reach_is_told(one_part):
    """A socket under a narrower mouth cannot be: a shoulder half way up with a wider foot can."""
    instrument = one_part(
        outside=[(0, 34), (40, 34), (40, 26), (80, 26), (80, 36), (100, 36)],
        socket_top=Socket(depth_mm=10, diameter_mm=22),
    )
    part, standing, supports = planned(instrument, "joint")
    words = " ".join(str(one) for one in support_advice(part, standing, TALL, supports))
    assert "collar" not in [one.name for one in supports]
    assert "Support under a shoulder, which hangs over by 4.0 mm" in words
