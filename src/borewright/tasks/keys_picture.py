"""The keys of an instrument as its papers show them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from borewright.model import Instrument, KeySet

if TYPE_CHECKING:
    from borewright.documents import ShownKeys

#: Colours of joints in turn, of chimneys, holes, and of what keys are made of.
_BODIES, _CHIMNEY, _HOLE = ((150, 108, 68), (134, 94, 58)), (120, 84, 52), (40, 30, 24)
_STUFF = {"metal": (208, 211, 216), "steel": (150, 156, 163), "pad": (236, 224, 200)}


def shown_keys(instrument: Instrument, keys: KeySet) -> ShownKeys:
    """The joints that carry keys, and the keys at rest: shapes, names and figures.

    Raises ModelError where the keys cannot belong to the instrument.
    """
    import numpy as np

    from borewright.documents import NamedPoint, Shape, ShownKeys
    from borewright.keywork import Body, Mechanism, key_figures
    from borewright.keywork.facets import body_facets, chimney_facets, facets, hole_facets
    from borewright.keywork.pieces import pieces_of
    from borewright.model.keys import Cup, Touch
    from borewright.solids.keys import in_solids_frame

    keys.check_against(instrument)
    mechanism, body = Mechanism(keys, instrument), Body(instrument)
    carrying = {element.part for element in keys.elements}
    # The keys' frame is turned, not mirrored, so triangles keep facing outwards.
    shapes = [
        Shape(part.name, in_solids_frame(body_facets(body, part.name)), _BODIES[number % 2])
        for number, part in enumerate(instrument.parts)
        if part.name in carrying
    ]
    for rim in body.rims.values():
        if rim.part not in carrying:
            continue
        shapes.append(Shape(rim.hole.name, in_solids_frame(hole_facets(rim)), _HOLE))
        if rim.hole.chimney_mm > 0:
            chimney = chimney_facets(rim, instrument.fit.chimney_wall_mm)
            shapes.append(Shape(rim.hole.name, in_solids_frame(chimney), _CHIMNEY))
    names = []
    for key in keys.keys:
        for piece in pieces_of(mechanism, key):
            triangles = facets(piece.at(mechanism, mechanism.rest[key]))
            shapes.append(Shape(piece.name, in_solids_frame(triangles), _STUFF[piece.stuff.value]))
        own = keys.of_key(key)
        where = next((e for kind in (Cup, Touch) for e in own if isinstance(e, kind)), own[0])
        point = mechanism.points[where.name].mean(axis=0)
        x, y, z = in_solids_frame(point)
        bearing = float(np.degrees(np.arctan2(point[1], point[2])))
        names.append(NamedPoint(key, (float(x), float(y), float(z)), bearing))
    return ShownKeys(shapes, names, key_figures(mechanism, body))
