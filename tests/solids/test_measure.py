import numpy as np
import pytest

from borewright.errors import SolidsError
from borewright.model import ToneHole, Undercut
from borewright.solids import bore_diameter_mm, hole_measure, read_mesh

#: The promise of the STL: a bore gauge's resolution (mm).
BORE_MM = 0.02


@pytest.mark.parametrize("index", range(4))
def test_bores_at_ten_stations(clarinet, exported, index):
    part = clarinet.parts[index]
    mesh = read_mesh(exported[1].parts[index].stl)
    top = part.socket_top.depth_mm if part.socket_top else 0.0
    bottom = part.length_mm - (part.socket_bottom.depth_mm if part.socket_bottom else 0.0)
    for station in np.linspace(top + 0.5, bottom - 0.5, 10):
        found = bore_diameter_mm(mesh, station)
        assert found == pytest.approx(part.bore_diameter_at(station), abs=BORE_MM)


def test_sockets_and_tenon_bores_are_there_too(clarinet, exported):
    barrel, upper = (read_mesh(exported[1].parts[i].stl) for i in (0, 1))
    assert bore_diameter_mm(barrel, 8.0) == pytest.approx(22.4, abs=BORE_MM)
    assert bore_diameter_mm(barrel, 60.0) == pytest.approx(22.4, abs=BORE_MM)
    assert bore_diameter_mm(upper, -8.0) == pytest.approx(14.95, abs=BORE_MM)
    assert bore_diameter_mm(upper, 190.0) == pytest.approx(14.65, abs=BORE_MM)


def test_every_hole_is_where_and_as_large_as_modelled(clarinet, exported):
    for index, part in enumerate(clarinet.parts):
        mesh = read_mesh(exported[1].parts[index].stl)
        for hole in part.holes:
            found = hole_measure(mesh, part, hole)
            turn = (found.bearing_deg - hole.bearing_deg + 180) % 360 - 180
            # Facets: 0.004 mm of chord on each side, 0.01° is 0.002 mm at the rim.
            assert found.station_mm == pytest.approx(hole.station_mm, abs=0.005)
            assert turn == pytest.approx(0, abs=0.01)
            assert found.diameter_mm == pytest.approx(hole.diameter_mm, abs=0.01)
            # FC sits 0.2 mm short of a kink in the bore, which the two sides cannot average.
            tube = part.tube_height_mm(hole)
            assert found.tube_height_mm == pytest.approx(tube, abs=0.012)


@pytest.mark.parametrize(
    "hole",
    [
        ToneHole(name="h", station_mm=40, diameter_mm=7, bearing_deg=150),
        ToneHole(
            name="h",
            station_mm=40,
            diameter_mm=7,
            bearing_deg=-20,
            undercut=Undercut(diameter_mm=9, depth_mm=2),
        ),
        ToneHole(name="h", station_mm=40, diameter_mm=3, bearing_deg=180, into_bore_mm=3),
    ],
    ids=["drilled", "undercut", "lined"],
)
def test_other_holes_are_measured_too(one_part, stl_of, hole):
    instrument = one_part(hole)
    part = instrument.parts[0]
    found = hole_measure(read_mesh(stl_of(instrument)), part, hole)
    assert found.diameter_mm == pytest.approx(hole.diameter_mm, abs=0.01)
    assert found.tube_height_mm == pytest.approx(part.tube_height_mm(hole), abs=0.01)


def test_a_wrong_expectation_is_seen_in_the_measure(one_part, stl_of):
    """The gauge reads the mesh, not the model it is told to look by."""
    hole = ToneHole(name="h", station_mm=50, diameter_mm=7, bearing_deg=-45, chimney_mm=1)
    mesh = read_mesh(stl_of(one_part(hole)))
    hint = hole.model_copy(
        update={"station_mm": 51.0, "diameter_mm": 6.5, "bearing_deg": -42.0, "chimney_mm": 0.6}
    )
    found = hole_measure(mesh, one_part(hint).parts[0], hint)
    assert found.station_mm == pytest.approx(50, abs=0.005)
    assert found.bearing_deg == pytest.approx(-45, abs=0.02)
    assert found.diameter_mm == pytest.approx(7, abs=0.01)
    assert found.tube_height_mm == pytest.approx(8.5, abs=0.01)


def test_the_bore_gauge_reads_a_known_polygon():
    """Against trimesh's own cylinder: vertices on the circle, facets inside by the sagitta."""
    import trimesh

    pipe = trimesh.creation.annulus(r_min=7.5, r_max=15, height=40, sections=256)
    sagitta = 7.5 * (1 - np.cos(np.pi / 256))
    found = bore_diameter_mm(pipe, 3.0)
    assert 15 - 2 * sagitta < found < 15


def test_no_bore_and_no_hole_are_errors(one_part, stl_of, tmp_path):
    instrument = one_part()
    mesh = read_mesh(stl_of(instrument))
    with pytest.raises(SolidsError, match=r"no bore is found at station 150"):
        bore_diameter_mm(mesh, 150.0)
    with pytest.raises(SolidsError, match="no hole is found near station 50"):
        hole_measure(mesh, instrument.parts[0], ToneHole(name="h", station_mm=50, diameter_mm=6))
    with pytest.raises(SolidsError, match="cannot be read as a mesh"):
        read_mesh(tmp_path / "missing.stl")
