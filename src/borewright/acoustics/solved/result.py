"""The lengths that a solved hole has in the T network."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class SolvedHole:
    """One hole in one state, by the 3-D potential solution (mm, mm³).

    With a and b the radii of bore and hole, and j w rho the impedance of unit inertance:

    - series impedance of the whole hole  Za = j w rho series_length / (pi a²);
    - open:   shunt impedance  Zs = j w rho shunt_length / (pi b²);
    - closed: Zs = rho c² / (j w volume) + j w rho shunt_length / (pi b²).

    Attributes
    ----------
    series_length_mm
        Change of the main bore's length (negative, unless a lining stands in the bore).
    shunt_length_mm
        Open: acoustic length of the shunt branch, outside included. Closed: length of the
        inertance in series with the volume; a straight tube gives inner correction + a third
        of its length - b²/4 over its length, since the bore's pressure is curved over the
        mouth.
    inner_length_mm
        Open: the part up to the rim plane, with zero pressure there ("shunt length without
        outside correction"). Closed: the whole of it.
    outside_length_mm
        Open: shunt_length - inner_length: the outside with body, chimney and pad. Closed: 0.
    rise_mm3
        Open: growth of the shunt length with k², read off at k = 30/m, in a cylindrical bore:
        shunt length at a frequency is shunt_length + rise k². Closed: 0.
    volume_mm3
        Air in the tube, from the bore's wall (or a lining's end) to the rim plane or to what
        closes it.
    displaced_mm3
        Bore air that a lining tube takes away: a negative compliance at the hole's station.
    series_error_mm, shunt_error_mm, volume_error_mm3
        Error bounds estimated from two orders of elements; None where not asked for.
    unknowns, seconds
        Of all systems solved together.
    """

    state: str
    series_length_mm: float
    shunt_length_mm: float
    inner_length_mm: float
    outside_length_mm: float
    rise_mm3: float
    volume_mm3: float
    displaced_mm3: float
    series_error_mm: float | None
    shunt_error_mm: float | None
    volume_error_mm3: float | None
    unknowns: int
    seconds: float

    def __str__(self) -> str:
        errors = ""
        if self.series_error_mm is not None and self.shunt_error_mm is not None:
            errors = f" (errors below {self.series_error_mm:.4f} and {self.shunt_error_mm:.4f})"
        return (
            f"{self.state}: series length {self.series_length_mm:.4f} mm, "
            f"shunt length {self.shunt_length_mm:.4f} mm{errors}, "
            f"volume {self.volume_mm3:.2f} mm³"
        )
