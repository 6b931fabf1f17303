"""Write the tables of the invented batch of twelve: every person, firm and figure is made up.

Run it as ``python tools/batch_of_twelve.py``; it writes into the package's examples with a
fixed seed, so the same tables come out every time.
"""

from __future__ import annotations

import csv
import random
from datetime import date, timedelta
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parents[1] / "src/borewright/examples/batch-of-twelve"
CHANCE = random.Random(1912)
DESIGN = "loan clarinet 3"
SERIALS = [f"LC-{number:03d}" for number in range(1, 13)]
#: Hours, grams and height of each part as printed upright.
PARTS = {
    "barrel": (3.1, 42, 67), "upper joint": (9.4, 118, 217), "lower joint": (12.2, 171, 261),
    "bell": (6.8, 96, 101),
}  # fmt: skip
NOTES = ("E3", "F3", "G3", "A3", "Bb3", "C4", "D4", "E4", "F4", "G4", "A4", "Bb4", "B4", "C5",
         "D5", "E5", "F5", "G5", "A5", "B5", "C6")  # fmt: skip
START = date(2031, 3, 3)


def day(after: int) -> str:
    """A day so many days after the batch began."""
    return (START + timedelta(days=after)).isoformat()


def write(kind: str, rows: list[dict[str, Any]]) -> None:
    """Write one table."""
    names = list(dict.fromkeys(name for row in rows for name in row))
    with (FOLDER / f"{kind}.csv").open("w", encoding="utf-8", newline="") as stream:
        writer = csv.DictWriter(stream, names, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


def bought() -> None:
    """Sources, quotes, samples with survey and tests, lots."""
    fern, sallow = "Fernmill Keys", "Sallow Lane Metal"
    write("source", [{"code": fern, "contact": "Ottoline Marsh"},
                     {"code": sallow, "contact": "P. Underhill"}])  # fmt: skip
    quotes = [
        (fern, "silver", "186.40", 10, "0", 35), (fern, "silver", "171.90", 25, "0", 42),
        (fern, "nickel", "148.20", 10, "0", 30), (sallow, "silver", "164.00", 10, "90.00", 60),
        (sallow, "nickel", "131.50", 10, "90.00", 55),
    ]  # fmt: skip
    write("quote", [
        {"code": f"Q-{n}", "source": s, "plating": p, "unit_price": u, "currency": "EUR",
         "minimum_order": m, "tooling_price": t, "lead_time_days": d, "valid_until": day(90)}
        for n, (s, p, u, m, t, d) in enumerate(quotes, start=1)
    ])  # fmt: skip
    samples = [(f"F{n}", fern) for n in range(1, 6)] + [(f"S{n}", sallow) for n in range(1, 5)]
    write("sample", [{"code": c, "source": s, "plating": "silver", "carton": f"carton {c}",
                      "received": day(-40), "verdict": "good"} for c, s in samples])  # fmt: skip
    nominal = {"RV": 12.3, "A": 54.9, "GS": 67.4, "TP": 85.6, "RP": 26.4, "AE": 117.7, "FC": 144.8,
               "EB": 213.3}  # fmt: skip
    rows = []
    for code, source in samples:
        scatter = 0.06 if source == fern else 0.17
        for hole, station in nominal.items():
            off = CHANCE.gauss(0.05, scatter) + (0.9 if (code, hole) == ("F4", "FC") else 0.0)
            rows.append(
                {
                    "sample": code,
                    "feature": hole,
                    "measure": "station",
                    "nominal_mm": station,
                    "value_mm": f"{station + off:.2f}",
                    "gauge": "callipers and height gauge",
                    "who": "Ada",
                    "day": day(-38),
                }
            )
    write("measurement", rows)
    levers = [
        ("register key", "RV", 21.0, 14.0, 1.5, 55, "closed", 4.2, "2.0", "4.0", 0.03),
        ("A key", "A", 16.0, 15.0, 2.3, 60, "closed", 3.0, "", "", 0.04),
        ("G-sharp key", "GS", 18.5, 15.5, 1.6, 62, "closed", 3.1, "", "", 0.08),
        ("F key", "FC", 38.0, 30.0, 3.9, 44, "open", 6.5, "4.0", "8.0", 0.03),
        ("E key", "EB", 41.0, 31.0, 4.2, 38, "open", 6.7, "4.0", "8.0", 0.01),
        ("A-flat key", "AE", 30.0, 26.0, 3.3, 66, "closed", 6.0, "4.0", "8.0", 0.03),
    ]  # fmt: skip
    names = ("key", "hole", "touch_arm_mm", "pad_arm_mm", "lift_mm", "spring_at_pad_g", "rest",
             "touch_height_mm", "lowest_touch_mm", "highest_touch_mm", "end_play_mm")  # fmt: skip
    write("lever", [{"sample": "F1"} | dict(zip(names, row, strict=True)) for row in levers])
    trials = [{"sample": c, "test": "bend", "feature": "A-flat key", "force_n": 5,
               "deflection_mm": f"{CHANCE.gauss(0.42 if c[0] == 'F' else 0.55, 0.02):.2f}",
               "passed": "yes"} for c in ("F1", "F2", "S1", "S2")]  # fmt: skip
    trials.append({"sample": "F1", "test": "wear", "feature": "E key hinge", "cycles": 20000,
                   "passed": "yes"})  # fmt: skip
    trials.append(
        {
            "sample": "F1",
            "test": "plating",
            "passed": "yes",
            "note": "Supplier's report on EN 1811 dated 2031-01-20; invented.",
        }
    )
    write("trial", trials)
    write("criterion", [
        {"code": "price", "weight": 3, "better": "low", "unit": "EUR a set"},
        {"code": "scatter", "weight": 4, "better": "low", "unit": "mm"},
        {"code": "stiffness", "weight": 2, "better": "high", "unit": "N/mm"},
        {"code": "delivery", "weight": 1, "better": "low", "unit": "days"},
        {"code": "finish", "weight": 2, "better": "high", "unit": "owner's marks, 1 to 5"},
    ])  # fmt: skip
    write("score", [{"source": fern, "criterion": "finish", "value": 4},
                    {"source": sallow, "criterion": "finish", "value": 3}])  # fmt: skip
    lots = [("PLA-7", "filament", "plain PLA, black", "24.00", "kg"),
            ("KEY-1", "keywork", "17 keys, 6 rings, silver", "186.40", "set"),
            ("PAD-3", "pads", "bladder pads, mixed", "11.20", "set"),
            ("SPR-2", "springs", "blued steel needles", "4.60", "set"),
            ("CRK-1", "corks", "sheet 1.6 mm", "3.10", "set"),
            ("EPX-4", "coating", "thin epoxy", "2.40", "instrument")]  # fmt: skip
    write("lot", [{"code": c, "stuff": s, "description": d, "supplier_lot": f"X{n}{n}",
                   "received": day(-20), "unit_price": p, "unit": u, "currency": "EUR",
                   **({"dried_hours": 8, "dried_c": 50, "moisture_percent": 0.2,
                       "coupon_offset_mm": -0.14, "coupon_passed": "yes"} if n == 1 else {})}
                  for n, (c, s, d, p, u) in enumerate(lots, start=1)])  # fmt: skip


def made() -> None:
    """Printers, batch, print jobs, parts, assembly, labour."""
    write("printer", [{"code": "north", "height_mm": 300, "power_w": 120},
                      {"code": "south", "height_mm": 250, "power_w": 95}])  # fmt: skip
    write("batch", [{"code": "spring 2031", "design": DESIGN, "quantity": 12, "plating": "silver",
                     "started": day(0), "due": day(60)}])  # fmt: skip
    jobs, parts = [], []
    for number, serial in enumerate(SERIALS):
        for part, (hours, mass, height) in PARTS.items():
            tries = (
                ["rejected", "good"]
                if (number, part) in ((2, "lower joint"), (5, "upper joint"), (8, "lower joint"))
                else ["good"]
            )
            for outcome in tries:
                code = f"P-{len(jobs) + 1:03d}"
                printer = "north" if height > 250 else ("north", "south")[number % 2]
                jobs.append({
                    "code": code, "printer": printer, "lot": "PLA-7", "design": DESIGN,
                    "part": part, "settings": "0.4 nozzle, 0.12 layers, 4 walls",
                    "orientation": "upright", "started": day(number), "height_mm": height,
                    "hours": f"{CHANCE.gauss(hours, 0.1):.2f}",
                    "mass_g": f"{CHANCE.gauss(mass, 1):.1f}", "outcome": outcome})  # fmt: skip
            parts.append({"code": f"{serial}-{part.replace(' ', '-')}", "name": part,
                          "design": DESIGN, "print_job": code, "instrument": serial,
                          "outcome": "good"})  # fmt: skip
    write("print_job", jobs)
    write("part", parts)
    order = ["R-101"] * 8 + ["R-102"] * 3 + ["R-103"]
    write("instrument", [{"code": s, "design": DESIGN, "batch": "spring 2031", "order": o}
                         for s, o in zip(SERIALS, order, strict=True)])  # fmt: skip
    write("assembly", [{"instrument": s, "keywork_lot": "KEY-1", "pad_lot": "PAD-3",
                        "spring_lot": "SPR-2", "cork_lot": "CRK-1", "coating_lot": "EPX-4",
                        "who": "Ben", "day": day(30 + n)}
                       for n, s in enumerate(SERIALS)])  # fmt: skip
    steps = {"reaming and finishing": 1.6, "sealing": 0.5, "fitting keywork": 5.2,
             "tuning and playing in": 1.4}  # fmt: skip
    labour = [{"step": step, "hours": f"{CHANCE.gauss(hours, hours / 20):.2f}", "instrument": s,
               "who": "Ben", "day": day(31 + n)}
              for n, s in enumerate(SERIALS) for step, hours in steps.items()]  # fmt: skip
    labour.append({"step": "setting up the batch", "hours": "6", "batch": "spring 2031",
                   "who": "Ada", "day": day(0)})  # fmt: skip
    write("labour", labour)


def proved() -> None:
    """Every check; none fails."""
    checks = []
    for number, serial in enumerate(SERIALS):
        when = {"instrument": serial, "who": "Ada", "day": day(36 + number)}
        for station in (10, 65, 150, 244):
            off = f"{CHANCE.gauss(0, 0.015):.3f}"
            checks.append(
                {
                    **when,
                    "subject": "bore",
                    "feature": f"station {station}",
                    "value": off,
                    "gauge": "bore gauge",
                }
            )
        checks.append({**when, "subject": "cork fit", "passed": "yes"})
        for joint in ("upper joint", "lower joint"):
            checks.append(
                {
                    **when,
                    "subject": "leak",
                    "feature": joint,
                    "gauge": "suction, timed",
                    "value": f"{CHANCE.uniform(22, 45):.0f}",
                }
            )
        for key, low, high in (("A-flat key", 45, 70), ("F key", 25, 40), ("E key", 25, 40)):
            checks.append(
                {
                    **when,
                    "subject": "springs",
                    "feature": key,
                    "unit": "g",
                    "value": f"{CHANCE.uniform(low + 2, high - 2):.0f}",
                    "lowest": low,
                    "highest": high,
                    "gauge": "spring gauge",
                }
            )
        for key, least in (("F key", 3.84), ("E key", 4.07), ("register key", 1.0)):
            checks.append(
                {
                    **when,
                    "subject": "lifts",
                    "feature": key,
                    "unit": "mm",
                    "value": f"{least + CHANCE.uniform(0.02, 0.3):.2f}",
                    "lowest": least,
                }
            )
        for note in NOTES:
            checks.append(
                {
                    **when,
                    "subject": "tuning",
                    "feature": note,
                    "value": f"{CHANCE.gauss(0.5, 4.5):.1f}",
                    "temperature_c": 21.5,
                    "gauge": "median of three takes",
                }
            )
    write("check", checks)


def sold() -> None:
    """Settings, orders and the price list."""
    write("setting", [
        {"code": "owner", "value": "Alder Row Workshop (invented)"},
        {"code": "address", "value": "3 Alder Row; Nowhere-on-Sea"},
        {"code": "paper", "value": "A4"}, {"code": "currency", "value": "EUR"},
        {"code": "language", "value": "en"},
    ])  # fmt: skip
    common = {"material": "plain PLA, black", "plating": "silver", "currency": "EUR",
              "tax_percent": "19", "quoted": day(-30)}  # fmt: skip
    write("order", [
        {"code": "R-101", "customer": "Nowhere Town Band", "quantity": 8, "barrels": "64 and 66 mm",
         "extras": "cases", "shipping_price": "68.00", "promised": day(60), **common},
        {"code": "R-102", "customer": "School by the Pier", "quantity": 3, "barrels": "65 mm",
         "shipping_price": "32.50", "promised": day(60), **common},
        {"code": "R-103", "customer": "עדה 🎷 Quill", "quantity": 1, "barrels": "65 mm",
         "shipping_price": "14.90", "promised": day(62), **common},
    ])  # fmt: skip
    prices = [("filament", "kg", "24.00"), ("printer wear", "printer hour", "0.85"),
              ("electricity", "kWh", "0.34"), ("work", "labour hour", "31.00"),
              ("pads", "instrument", "11.20"), ("corks", "instrument", "3.10"),
              ("springs", "instrument", "4.60"), ("epoxy", "instrument", "2.40"),
              ("case", "instrument", "38.00"), ("warranty reserve", "instrument", "15.00"),
              ("rent and tools", "batch", "640.00"), ("plating test", "batch", "180.00"),
              ("payment", "percent of price", "1.4"), ("value added tax", "tax", "19")]  # fmt: skip
    write("expense", [{"code": c, "per": per, "price": price,
                       "currency": "" if per in ("percent of price", "tax") else "EUR"}
                      for c, per, price in prices])  # fmt: skip


def main() -> None:
    """Write every table."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    bought()
    made()
    proved()
    sold()


if __name__ == "__main__":
    main()
