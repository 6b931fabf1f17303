"""Keys as a mechanism: how they turn, drive each other, land, clear and stand on a body.

Knows the model and nothing of sound or screens. Lengths in mm, angles in degrees, forces in N
or, at a touch, in grams.
"""

__all__: list[str] = []
