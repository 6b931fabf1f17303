"""Whole resonators in three dimensions, with and without holes."""

from __future__ import annotations

import numpy as np
import pytest

from borewright.acoustics import resonances
from borewright.acoustics.solved.whole import (
    REFERENCE_AIR,
    WholeDetail,
    _whole_mesh,
    solving,
    whole_resonances,
)
from borewright.acoustics.solved.whole._solid import turn_to_plane
from borewright.acoustics.solved.whole.body import body_of
from borewright.model import Cover, Instrument, Pad, Part, Rest, ToneHole, Undercut


def with_holes(*holes):
    part = Part(
        name="tube",
        length_mm=300,
        bore=[(0, 15), (300, 15)],
        outside=[(0, 29), (300, 29)],
        holes=list(holes),
    )
    return Instrument(name="tube", parts=[part], outside_interaction=True)


def plain(name, station, bearing=0.0):
    return ToneHole(name=name, station_mm=station, diameter_mm=8, bearing_deg=bearing)


def cents(found, reference):
    return 1200 * np.log2(np.asarray(found) / np.asarray(reference))


def test_plane_of_the_holes():
    same = body_of(with_holes(plain("a", 100, 40), plain("b", 200, -140)), [])
    assert turn_to_plane(same) == pytest.approx(np.radians(40))
    askew = body_of(with_holes(plain("a", 100, 40), plain("b", 200, 10)), [])
    assert turn_to_plane(askew) is None


@pytest.mark.slow
def test_pipe_in_three_dimensions_against_the_half_plane(monkeypatch):
    # The same air by another mesh and another weak form: c = 346.0, acoustics notes, 4.
    pipe = Instrument(
        name="pipe",
        parts=[
            Part(
                name="tube",
                length_mm=300,
                bore=[(0, 15), (300, 15)],
                outside=[(0, 22), (300, 22)],
            )
        ],
    )
    monkeypatch.setattr(solving.Body, "is_round", property(lambda self: False))
    found = whole_resonances(pipe, [])
    assert np.max(np.abs(cents(found.frequencies_hz, (283.303, 849.937, 1416.637)))) < 0.3


@pytest.mark.slow
def test_one_hole_by_half_and_whole_air_and_by_a_finer_mesh(monkeypatch):
    instrument = with_holes(plain("h", 200))
    half = whole_resonances(instrument, ["h"])
    finer = whole_resonances(instrument, ["h"], detail=WholeDetail(order=4))
    # Measured: 0.16 at most.
    assert np.max(np.abs(cents(half.frequencies_hz, finer.frequencies_hz))) < 0.25
    monkeypatch.setattr("borewright.acoustics.solved.whole._solid.turn_to_plane", lambda _: None)
    whole = whole_resonances(instrument, ["h"])
    assert whole.unknowns > 1.5 * half.unknowns
    assert np.max(np.abs(cents(half.frequencies_hz, whole.frequencies_hz))) < 0.15
    # Closed forms know a plain hole in a plain tube.
    engine = resonances(instrument, ["h"], 3, air=REFERENCE_AIR, side_holes="closed forms")
    assert np.max(np.abs(cents(engine, half.frequencies_hz))) < 3.0


@pytest.mark.slow
def test_pads_undercuts_and_stoppers_do_what_they_do():
    pad = Pad(diameter_mm=12.0, lift_mm=2.5, rest=Rest.OPEN)
    low = pad.model_copy(update={"lift_mm": 1.0})

    def hole(**changes):
        kept = {"name": "h", "station_mm": 200, "diameter_mm": 8, "chimney_mm": 0.8}
        return with_holes(ToneHole(**{**kept, **changes}))

    bare = hole()
    padded = hole(cover=Cover.PAD, pad=pad)
    muffled = hole(cover=Cover.PAD, pad=low)
    undercut = hole(undercut=Undercut(diameter_mm=10.0, depth_mm=3.0))
    quick = WholeDetail(order=2, edge_layers=1)
    first = {
        name: whole_resonances(instrument, ["h"], 1, detail=quick).frequencies_hz[0]
        for name, instrument in {
            "bare": bare,
            "padded": padded,
            "muffled": muffled,
            "undercut": undercut,
        }.items()
    }
    closed = whole_resonances(padded, [], 1, detail=quick).frequencies_hz[0]
    assert closed < first["muffled"] < first["padded"] < first["bare"] < first["undercut"]


def test_mesher_has_nothing_to_say(capfd):
    # Its messages would land in the answer of a command that is asked for JSON.
    body = body_of(with_holes(plain("h", 200)), ["h"])
    mesh = _whole_mesh.whole_mesh(body, WholeDetail(order=2, edge_layers=0), 300.0)
    assert mesh.share == 2
    assert capfd.readouterr().out == ""
