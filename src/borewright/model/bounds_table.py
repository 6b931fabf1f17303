"""One table of what a figure can be: of instruments, readings, records, printers and materials.

No standard gives most of them: ``source`` says where each comes from, "common practice" or
"from memory", and all are wider than anything known. A part's own sizes have no lower bound
here: :mod:`borewright.model.plausible` tells a whole file that is in inches from a single slip.
"""

from __future__ import annotations

from typing import NamedTuple

from borewright.words import Said, say


class Slip(NamedTuple):
    """A wrong unit or point: the figure less ``shift``, times ``factor``, would be right."""

    factor: float
    looks: Said
    shift: float = 0.0

    def right(self, value: float) -> float:
        """The figure put right."""
        return (value - self.shift) * self.factor


_POINT_LOOKS = say("that looks like a lost decimal point")
_POINT = (Slip(0.1, _POINT_LOOKS), Slip(0.01, _POINT_LOOKS))
_THOUSANDTH = Slip(0.001, say("that looks like thousandths"))
#: Lengths in a file that may as a whole be in another unit.
LENGTH = (
    Slip(25.4, say("that looks like inches")),
    Slip(10.0, say("that looks like centimetres")),
    Slip(1000.0, say("that looks like metres")),
    *_POINT,
)
_ONE_LENGTH = (*LENGTH, _THOUSANDTH)  # a length by itself: no whole file follows it
_VOLUME = (Slip(1000.0, say("that looks like cubic centimetres")), *_POINT)
_FREQUENCY = (Slip(1000.0, say("that looks like kilohertz")), *_POINT)
_TEMPERATURE = (
    Slip(1 / 1.8, say("that looks like Fahrenheit"), 32.0),
    Slip(1.0, say("that looks like kelvin"), 273.15),
    *_POINT,
)
_SHARE = (Slip(0.01, say("that looks like percent")),)
_PERCENT = (Slip(100.0, say("that looks like a share of one")), *_POINT)
_MASS = (Slip(1000.0, say("that looks like kilograms")), *_POINT)
_HOURS = (Slip(1 / 60, say("that looks like minutes")), *_POINT)
_POWER = (Slip(1000.0, say("that looks like kilowatts")), *_POINT)
_DENSITY = (Slip(0.001, say("that looks like kg/m³")), *_POINT)
_PRESSURE = (
    Slip(0.01, say("that looks like pascals")),
    Slip(10.0, say("that looks like kilopascals")),
    Slip(1000.0, say("that looks like bars")),
)


class Bounds(NamedTuple):
    """What a figure can be, what it usually is, and where both come from."""

    low: float
    high: float
    usual: tuple[float, float]
    unit: str
    slips: tuple[Slip, ...]
    none: bool = False  # nought means: there is none
    source: str = "common practice"


_MEMORY = "from memory"

_INSTRUMENT = {
    "shown_mm": Bounds(5, 250, (30, 150), "mm", LENGTH),
    "bore_diameter_mm": Bounds(3, 60, (8, 32), "mm", LENGTH),
    "bore_length_mm": Bounds(0, 200, (10, 120), "mm", LENGTH),
    "chamber_mm3": Bounds(50, 200_000, (500, 40_000), "mm³", _VOLUME, none=True),
    "equivalent_volume_mm3": Bounds(5, 50_000, (100, 10_000), "mm³", _VOLUME, none=True),
    "reed_resonance_hz": Bounds(100, 20_000, (800, 5_000), "Hz", _FREQUENCY),
    "outside_mm": Bounds(0, 400, (10, 250), "mm", LENGTH),
    "socket_depth_mm": Bounds(0, 100, (5, 60), "mm", LENGTH),
    "joint_diameter_mm": Bounds(0, 150, (8, 80), "mm", LENGTH),
    "tenon_length_mm": Bounds(0, 100, (5, 60), "mm", LENGTH),
    "groove_length_mm": Bounds(0.5, 90, (3, 50), "mm", LENGTH, none=True),
    "groove_depth_mm": Bounds(0.05, 6, (0.3, 3), "mm", LENGTH, none=True),
    "ring_seat_length_mm": Bounds(0.5, 40, (2, 25), "mm", LENGTH, none=True),
    "ring_seat_mm": Bounds(5, 150, (10, 80), "mm", LENGTH, none=True),
    "hole_diameter_mm": Bounds(0, 60, (1.5, 40), "mm", LENGTH),
    "chimney_mm": Bounds(-40, 60, (-8, 25), "mm", ()),
    "into_bore_mm": Bounds(0.05, 30, (0.5, 12), "mm", _ONE_LENGTH, none=True),
    "pad_diameter_mm": Bounds(0, 100, (4, 75), "mm", LENGTH),
    "pad_lift_mm": Bounds(0, 30, (0.8, 15), "mm", LENGTH, none=True),
    "undercut_depth_mm": Bounds(0, 40, (0.2, 15), "mm", LENGTH),
    "post_depth_mm": Bounds(0.5, 30, (2, 12), "mm", LENGTH),
    "decay_mm": Bounds(5, 100_000, (50, 20_000), "mm", _ONE_LENGTH, source=_MEMORY),
    "air_c": Bounds(-10, 50, (5, 42), "°C", _TEMPERATURE),
    "humidity": Bounds(-0.001, 1.001, (0.05, 1), "", _SHARE),
    "carbon_dioxide": Bounds(-0.001, 0.06, (0, 0.055), "", _SHARE),
    "pressure_hpa": Bounds(500, 1200, (600, 1080), "hPa", _PRESSURE),
    "a4_hz": Bounds(380, 480, (390, 470), "Hz", _FREQUENCY),
    "cents": Bounds(-600, 600, (-100, 100), "cents", ()),
}

_BODY = {
    "seat_land_mm": Bounds(0.3, 5, (0.31, 2), "mm", _ONE_LENGTH, source=_MEMORY),
    "small_measure_mm": Bounds(0.001, 10, (0.02, 5), "mm", _ONE_LENGTH, True, _MEMORY),
    "over_mm": Bounds(0.001, 5, (0.02, 3), "mm", _ONE_LENGTH, True, _MEMORY),
    "post_base_mm": Bounds(1, 30, (2, 16), "mm", _ONE_LENGTH, source=_MEMORY),
    "mark_depth_mm": Bounds(0.05, 3, (0.1, 1.5), "mm", _ONE_LENGTH, source=_MEMORY),
    "rest_length_mm": Bounds(3, 150, (8, 80), "mm", _ONE_LENGTH, source=_MEMORY),
    "rest_width_mm": Bounds(1, 60, (3, 30), "mm", _ONE_LENGTH, source=_MEMORY),
    "screw_mm": Bounds(0.5, 8, (1, 5), "mm", _ONE_LENGTH, source=_MEMORY),
    "screw_depth_mm": Bounds(0.5, 30, (2, 15), "mm", _ONE_LENGTH, source=_MEMORY),
}

_FIT = {
    "window_mm": Bounds(0.001, 100, (0.01, 40), "mm", _ONE_LENGTH, True, _MEMORY),
    "size_window": Bounds(0, 1, (0.01, 0.6), "", _SHARE, source=_MEMORY),
    "free_wall_mm": Bounds(0.05, 20, (0.3, 8), "mm", _ONE_LENGTH, source=_MEMORY),
    "weight": Bounds(1e-6, 1_000_000, (0.001, 200), "", (), True, _MEMORY),
    "tolerance_cents": Bounds(0.01, 600, (0.5, 100), "cents", (), True, _MEMORY),
    "reamer_mm": Bounds(1, 150, (3, 80), "mm", _ONE_LENGTH),
    "spread_mm": Bounds(1e-5, 10, (0.001, 2), "mm", _ONE_LENGTH, True, _MEMORY),
}

_KEYS = {
    "ring_inside_mm": Bounds(1.5, 40, (5, 28), "mm", LENGTH),
    "thread_mm": Bounds(0.5, 12, (1, 8), "mm", _ONE_LENGTH),
    "thread_pitch_mm": Bounds(0.05, 3, (0.2, 1.5), "mm", _ONE_LENGTH),
    "key_height_mm": Bounds(2, 200, (5, 100), "mm", _ONE_LENGTH),
    "tube_mm": Bounds(0.5, 20, (1.5, 10), "mm", _ONE_LENGTH),
    "rod_mm": Bounds(0.2, 12, (0.8, 6), "mm", _ONE_LENGTH),
    "key_piece_mm": Bounds(0.05, 80, (0.3, 45), "mm", _ONE_LENGTH),
    "ring_outside_mm": Bounds(2, 50, (6, 34), "mm", _ONE_LENGTH),
    "travel_mm": Bounds(0.01, 40, (0.2, 20), "mm", _ONE_LENGTH, none=True),
    "spring_thickness_mm": Bounds(0.03, 4, (0.08, 2), "mm", _ONE_LENGTH),
    "spring_width_mm": Bounds(0.3, 15, (1, 8), "mm", _ONE_LENGTH),
    "spring_length_mm": Bounds(2, 200, (8, 120), "mm", _ONE_LENGTH),
    "spring_force_n": Bounds(0.001, 50, (0.02, 12), "N", _POINT, none=True),
    "touch_force_g": Bounds(0.5, 2000, (10, 400), "g", _MASS, none=True),
    "uncertainty_mm": Bounds(0.0001, 5, (0.002, 1.5), "mm", _ONE_LENGTH),
    "hinge_play_mm": Bounds(0.0005, 3, (0.005, 1), "mm", _ONE_LENGTH, none=True),
    "lever_arm_mm": Bounds(0.5, 400, (3, 200), "mm", _ONE_LENGTH),
}

_PLAYING = {
    "leak_mm": Bounds(0, 10, (0.05, 4), "mm", _ONE_LENGTH, source=_MEMORY),
    "leak_flow_ml_min": Bounds(0, 20_000, (0.5, 5_000), "ml/min", _POINT, source=_MEMORY),
    "gauge_pressure_hpa": Bounds(0.5, 500, (5, 200), "hPa", (*_PRESSURE, *_POINT)),
    "player_cents": Bounds(-120, 120, (-60, 60), "cents", (), True, _MEMORY),
    "tube_height_mm": Bounds(0.3, 80, (1, 40), "mm", _ONE_LENGTH),
    "part_length_mm": Bounds(5, 1200, (12, 900), "mm", _ONE_LENGTH),
    "gauged_bore_mm": Bounds(2, 150, (4, 120), "mm", _ONE_LENGTH),
    "gauged_hole_mm": Bounds(0.3, 60, (1.2, 40), "mm", _ONE_LENGTH),
    "gauged_lift_mm": Bounds(0.1, 30, (0.5, 15), "mm", _ONE_LENGTH),
    "gauged_joint_mm": Bounds(5, 150, (8, 80), "mm", _ONE_LENGTH),
    "reed_end_c": Bounds(-10, 45, (5, 40), "°C", _TEMPERATURE),
    "recording_c": Bounds(-10, 50, (5, 42), "°C", _TEMPERATURE),
    "difference_cents": Bounds(0.1, 200, (0.5, 50), "cents", (), source=_MEMORY),
}

_PRINTING = {
    "build_mm": Bounds(40, 3000, (100, 1200), "mm", _ONE_LENGTH),
    "nozzle_mm": Bounds(0.08, 3, (0.15, 1.2), "mm", _ONE_LENGTH),
    "layer_mm": Bounds(0.01, 2, (0.04, 0.6), "mm", _ONE_LENGTH),
    "speed_mm_s": Bounds(
        0.5, 2000, (5, 600), "mm/s", (Slip(1 / 60, say("that looks like mm/min")),)
    ),
    "layer_change_s": Bounds(0.001, 120, (0.05, 30), "s", _POINT, True, _MEMORY),
    "warm_up_min": Bounds(0.1, 240, (1, 90), "min", _POINT, True, _MEMORY),
    "bed_margin_mm": Bounds(0.1, 100, (0.5, 40), "mm", _ONE_LENGTH, True, _MEMORY),
    "bridge_mm": Bounds(0.1, 200, (0.5, 60), "mm", _ONE_LENGTH, source=_MEMORY),
    "finished_cm3": Bounds(
        0.01, 50_000, (0.5, 5_000), "cm³", (Slip(0.001, say("that looks like mm³")), *_POINT)
    ),
    "print_hours": Bounds(0.01, 1000, (0.05, 240), "h", _HOURS, True),
    "print_height_mm": Bounds(0.1, 3000, (2, 1200), "mm", _ONE_LENGTH, True),
    "density_g_cm3": Bounds(0.3, 12, (0.7, 5), "g/cm³", _DENSITY),
    "glass_transition_c": Bounds(-20, 450, (35, 300), "°C", _TEMPERATURE),
    "expansion_per_k": Bounds(
        1e-7, 1e-3, (5e-6, 4e-4), "1/K", (Slip(1e-6, say("that looks like millionths")),)
    ),
    "water_growth": Bounds(1e-7, 0.2, (1e-5, 0.05), "", _SHARE, True, _MEMORY),
    "modulus_gpa": Bounds(
        0.0001, 300, (0.005, 150), "GPa", (Slip(0.001, say("that looks like MPa")),)
    ),
    "least_wall_mm": Bounds(0.05, 20, (0.3, 8), "mm", _ONE_LENGTH, source=_MEMORY),
    "price": Bounds(0.0001, 1_000_000, (0.01, 100_000), "", (), True, _MEMORY),
    "under_size_mm": Bounds(0.001, 6, (0.01, 1), "mm", _ONE_LENGTH, True, _MEMORY),
}

_LEDGER = {
    "moisture_percent": Bounds(-0.001, 100, (0, 15), "%", _POINT),
    "dried_hours": Bounds(0.01, 500, (0.5, 72), "h", _HOURS, True),
    "dried_c": Bounds(15, 200, (30, 130), "°C", _TEMPERATURE),
    "coupon_offset_mm": Bounds(-3, 3, (-0.6, 0.6), "mm", _ONE_LENGTH, source=_MEMORY),
    "check_c": Bounds(-10, 50, (10, 35), "°C", _TEMPERATURE),
    "measured_mm": Bounds(-1000, 2000, (-200, 1000), "mm", _ONE_LENGTH),
    "printer_height_mm": Bounds(40, 3000, (100, 1200), "mm", _ONE_LENGTH),
    "power_w": Bounds(1, 20_000, (20, 3_000), "W", _POWER, True),
    "mass_g": Bounds(0.01, 50_000, (0.5, 3_000), "g", _MASS, True),
    "lot_mm": Bounds(0.001, 100, (0.01, 30), "mm", _ONE_LENGTH, True),
    "touch_height_mm": Bounds(0.1, 100, (1, 50), "mm", _ONE_LENGTH, True),
    "test_force_n": Bounds(0.001, 10_000, (0.05, 500), "N", _POINT, True),
    "deflection_mm": Bounds(0.001, 100, (0.005, 30), "mm", _ONE_LENGTH, True),
    "cycles": Bounds(1, 100_000_000, (5, 5_000_000), "", (), True, _MEMORY),
    "lead_days": Bounds(1, 3650, (1.5, 400), "d", (), True, _MEMORY),
    "sets": Bounds(1, 100_000, (1.5, 5_000), "", (), True, _MEMORY),
    "instruments": Bounds(1, 100_000, (1.5, 500), "", (), True, _MEMORY),
    "work_hours": Bounds(0.005, 5_000, (0.02, 400), "h", _HOURS, True),
    "amount": Bounds(0.000001, 100_000_000, (0.001, 200_000), "", (), True, _MEMORY),
    "tax_percent": Bounds(-0.001, 100, (0, 30), "%", _PERCENT),
    "criterion_weight": Bounds(1e-6, 1_000_000, (0.001, 1_000), "", (), True, _MEMORY),
}

#: What may be asked for at a command, in Python or on the page.
_ASKED = {
    "every_mm": Bounds(0.2, 500, (0.9, 100), "mm", _ONE_LENGTH, source=_MEMORY),
    "steps": Bounds(1, 50, (1.5, 20), "", (), source=_MEMORY),
    "pairs": Bounds(1, 500, (3, 60), "", (), source=_MEMORY),
    "own_cents": Bounds(0.01, 100, (0.5, 20), "cents", (), True, _MEMORY),
    "tolerance_mm": Bounds(0.001, 5, (0.01, 1), "mm", _ONE_LENGTH, source=_MEMORY),
    "virtual_builds": Bounds(10, 200_000, (100, 100_000), "", (), source=_MEMORY),
}

#: By the name that a field's :class:`~borewright.model.bounds.Bounded` gives.
BOUNDS: dict[str, Bounds] = {
    **_INSTRUMENT, **_BODY, **_FIT, **_KEYS, **_PLAYING, **_PRINTING, **_LEDGER, **_ASKED,
}  # fmt: skip
