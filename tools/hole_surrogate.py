"""Fit the holes' surrogate to the solved shapes, and say how far it is off.

``python tools/hole_surrogate.py`` reads ``tools/hole_samples.npz``, fits every figure of every
part, prints errors on shapes it was not fitted to, and writes the package's ``table.npz``.
``--add FOLDER/samples.jsonl`` first takes in what ``tools/hole_samples.py`` has solved since.
"""

from __future__ import annotations

import argparse
import json
import math
from pathlib import Path
from typing import Any

import jax
import jax.numpy as jnp
import numpy as np
from hole_shapes import COUNTS
from scipy.optimize import minimize

from borewright.acoustics.solved._rising import RISE_AT
from borewright.acoustics.solved.shape import HoleCover, HoleShape
from borewright.acoustics.surrogate.families import PARTS, forms_of, ratios
from borewright.acoustics.surrogate.lengths import (
    CONE_FIGURES,
    finger_length,
    hole_lengths,
    inside_lengths,
)
from borewright.acoustics.surrogate.ranges import parts_of
from borewright.acoustics.surrogate.sizes import (
    Sizes,
    displaced_volume,
    open_length,
    sizes_of,
    waved_length,
)
from borewright.acoustics.surrogate.table import Bumps, Table, evaluate

HERE = Path(__file__).parent
SAMPLES = HERE / "hole_samples.npz"
TABLE = HERE.parent / "src/borewright/acoustics/surrogate/table.npz"
COVERS = list(HoleCover)
#: Families of whole holes, which check and are never fitted to.
WHOLE = ("fresh", "held", "unseen")
#: Every so many-th shape is held out for the errors told, then taken in.
HELD = 6
#: Shapes that widths are found with; weights take all.
MOST = 700
#: Rises of tubes longer than this (rad) are no longer like the square of the wavenumber.
LONGEST = 0.5
#: Beyond this a closed hole's inertance is lost in the filling of the bore.
LOUDEST = 0.01

Rows = dict[str, np.ndarray]


def figures_of(row: dict[str, Any]) -> dict[str, float]:
    """What counts of a solved row, flat."""
    found = row["found"]
    if row["family"] not in WHOLE:
        return {name: found[name] for name in found if name not in ("rise_at", "k")}
    names = ("series_length_mm", "shunt_length_mm", "volume_mm3", "rise_mm3", "outside_length_mm")
    return {
        f"{state} {name}": found[state][name] for state in ("open", "closed") for name in names
    } | {"displaced": found["open"]["displaced_mm3"]}


def add(samples: dict[str, Rows], path: Path) -> None:
    """Take in solved rows."""
    new: dict[str, dict[int, dict[str, float]]] = {}
    for line in path.read_text(encoding="utf-8").splitlines():
        try:
            row = json.loads(line)
        except ValueError:
            continue  # a line that is being written
        if "found" not in row:
            continue
        shape = dict(row["shape"])
        shape["cover"] = float(COVERS.index(HoleCover(shape["cover"])))
        shape["body_radius_mm"] = shape["body_radius_mm"] or 0.0
        flat = {f"size {name}": value for name, value in shape.items()} | figures_of(row)
        new.setdefault(row["family"], {})[row["number"]] = flat
    for family, rows in new.items():
        old = samples.get(family, {"number": np.zeros(0)})
        for place, number in enumerate(old["number"]):
            known = {name: values[place] for name, values in old.items() if name != "number"}
            rows.setdefault(int(number), known)
        order = sorted(rows)
        columns = {name: np.array([rows[n][name] for n in order]) for name in rows[order[0]]}
        samples[family] = {"number": np.array(order, dtype=float), **columns}


def save(samples: dict[str, Rows]) -> None:
    """All rows in single precision."""
    flat = {
        f"{family}/{name}": values.astype(np.float32)
        for family, rows in samples.items()
        for name, values in rows.items()
        if name == "number" or np.any(values)
    }
    np.savez_compressed(SAMPLES, **flat)


def load() -> dict[str, Rows]:
    """The rows that were saved."""
    found: dict[str, Rows] = {}
    if SAMPLES.exists():
        with np.load(SAMPLES) as stored:
            for name in stored.files:
                family, column = name.split("/")
                found.setdefault(family, {})[column] = stored[name].astype(float)
    for family, rows in found.items():
        names = [f"size {field}" for field in HoleShape.__dataclass_fields__]
        wanted = [*names, *(["displaced"] if family in WHOLE else [])]
        for name in wanted:
            rows.setdefault(name, np.zeros(len(rows["number"])))
        if family in WHOLE:
            for name in ("closed rise_mm3", "closed outside_length_mm"):
                rows.setdefault(name, np.zeros(len(rows["number"])))
    return found


def shapes(rows: Rows) -> list[HoleShape]:
    """The shapes of rows."""
    names = list(HoleShape.__dataclass_fields__)
    made = []
    for place in range(len(rows["number"])):
        sizes = {name: float(rows[f"size {name}"][place]) for name in names}
        cover = COVERS[int(sizes.pop("cover"))]
        body = sizes.pop("body_radius_mm") or None
        made.append(HoleShape(**sizes, body_radius_mm=body, cover=cover))
    return made


def targets(part: str, sizes: Sizes, rows: Rows, found: Table) -> dict[str, tuple[Any, Any, Any]]:
    """Of every figure: what is fitted, mm (or mm³) that one is worth, and its noise."""
    b, forms = sizes.radius, forms_of(sizes)
    quiet = 0 * b
    if part in ("inner", "lined"):
        grown = (waved_length(forms.tube, quiet, RISE_AT) - open_length(forms.tube)) / RISE_AT**2
        rise = rows["rise"] - grown
        if part == "inner":
            rise = rise - sizes.mouth**2 / 4 * rows["shunt_open"]
        worth = b * sizes.tube**2
        displaced = (1 + displaced_volume(sizes) / rows["volume"]) ** 2
        noise = 1e-4 * b * sizes.bore**5 / rows["volume"] ** 2 / displaced
        return {
            "series open": (rows["series_open"] / forms.series_open, forms.series_open, quiet),
            "series closed": (
                rows["series_closed"] / forms.series_closed,
                forms.series_closed,
                quiet,
            ),
            "shunt open": ((rows["shunt_open"] - forms.shunt_open) / b, b, quiet),
            "shunt closed": (
                (rows["shunt_closed"] - forms.shunt_closed) / b / displaced,
                b * displaced,
                noise,
            ),
            "rise": (rise / worth, worth, jnp.where(RISE_AT * sizes.tube > LONGEST, 10.0, 0.0)),
        }
    if part == "finger":
        flat = inside_lengths(found, "inner", sizes)
        zero = {"finger": {"shunt closed": flat_bumps(ratios("finger", sizes).shape[1])}}
        expected, _ = finger_length(zero, sizes, flat)
        return {"shunt closed": ((rows["shunt_closed"] - expected) / b, b, quiet)}
    outside = rows["outside"]
    return {
        "outside": (jnp.log(outside / b), outside, quiet),
        "rise": (jnp.log(rows["rise"] / (b**2 * outside)), rows["rise"], quiet),
    }


def flat_bumps(d: int) -> Bumps:
    """A figure that is 0 everywhere."""
    return Bumps(
        np.zeros((1, d)), np.zeros(d), np.ones(d), np.ones(d), np.zeros(1), np.zeros(1 + d)
    )


def _covariance(p: Any, x: Any, z: Any) -> Any:
    apart = (x[:, None, :] - z[None]) / jnp.exp(p[:-2])
    return jnp.exp(2 * p[-2]) * jnp.exp(-jnp.sum(apart**2, axis=-1) / 2)


def _straight(x: Any) -> Any:
    return jnp.concatenate([jnp.ones((len(x), 1)), x], axis=1)


def _whole(p: Any, x: Any, noise: Any) -> Any:
    spread = jnp.exp(2 * p[-1]) + noise**2 + 1e-9 * jnp.exp(2 * p[-2])
    return _covariance(p, x, x) + jnp.diag(spread) + 100.0 * _straight(x) @ _straight(x).T


@jax.jit
@jax.value_and_grad
def _unlikely(p: Any, x: Any, y: Any, noise: Any) -> Any:
    lower = jnp.linalg.cholesky(_whole(p, x, noise))
    apart = jax.scipy.linalg.solve_triangular(lower, y, lower=True)
    slack = 0.02 * jnp.sum((p[:-2] - 1.0) ** 2)
    return apart @ apart / 2 + jnp.sum(jnp.log(jnp.diagonal(lower))) + slack


def fitted(at: Any, y: Any, noise: Any) -> Bumps:
    """The figure that is likeliest, given its values at ratios."""
    at, y, noise = (np.asarray(each, dtype=float) for each in (at, y, noise))
    kept = noise < 1.0
    at = at[kept].astype(np.float32).astype(float)
    middle, spread = at.mean(axis=0), at.std(axis=0) + 1e-9
    x = (at - middle) / spread
    mean, scale = y[kept].mean(), y[kept].std() + 1e-9
    y, noise = (y[kept] - mean) / scale, noise[kept] / scale
    d = x.shape[1]
    few = slice(None, None, max(1, math.ceil(len(y) / MOST)))

    def value(p: np.ndarray) -> tuple[float, np.ndarray]:
        found, slope = _unlikely(p, x[few], y[few], noise[few])
        return (float(found), np.asarray(slope)) if np.isfinite(found) else (1e9, 0 * p)

    start = np.array([1.0] * d + [0.0, -4.0])
    bounds = [(-2.0, 5.0)] * d + [(-3.0, 5.0), (-9.0, 0.0)]
    p = minimize(value, start, jac=True, method="L-BFGS-B", bounds=bounds,
                 options={"maxiter": 150}).x  # fmt: skip
    weights = np.linalg.solve(np.asarray(_whole(p, x, noise)), y)
    trend = 100.0 * np.asarray(_straight(x)).T @ weights
    trend = scale * trend
    trend[0] += mean
    return Bumps(at, middle, spread, np.exp(p[:-2]), scale * np.exp(2 * p[-2]) * weights, trend)


def cone_terms(rows: Rows, found: Table) -> np.ndarray:
    """Terms of conical bores, [4, 3], by least squares of what cylinders leave."""
    sizes = sizes_of(shapes(rows))
    level = inside_lengths(found, "inner", sizes._replace(slope=0 * sizes.slope))
    d = np.asarray(sizes.radius / sizes.bore)
    worth = np.asarray(sizes.radius * sizes.slope**2)[:, None]
    columns = worth * np.column_stack([np.ones_like(d), d, d**2])
    terms = []
    for name in CONE_FIGURES:
        key = name.replace(" ", "_")
        left = rows[key] - np.asarray(getattr(level, key))
        term = np.linalg.lstsq(columns, left, rcond=1e-3)[0]
        terms.append(term)
        tell(f"cone {name}", len(d), np.abs(columns @ term - left))
    return np.array(terms)


def tell(what: str, count: int, off: np.ndarray, unit: str = "mm") -> None:
    """One line of errors."""
    print(
        f"{what:32s} {count:5d} shapes, off by {np.quantile(off, 0.5):.4f} {unit} half of them, "
        f"{np.quantile(off, 0.95):.4f} 95 %, {np.max(off):.4f} at worst",
        flush=True,
    )


def check_whole(family: str, rows: Rows, found: Table, cone: np.ndarray) -> None:
    """Whole holes that nothing was fitted to."""
    made = shapes(rows)
    parts = [parts_of(shape) for shape in made]
    inside = np.array([part is not None for part in parts])
    keep = np.flatnonzero(inside)
    kept = [made[place] for place in keep]
    sizes = sizes_of(kept)
    numbers = [jnp.array([parts[place][n] for place in keep]) for n in range(3)]
    lengths = hole_lengths(found, jnp.asarray(cone), sizes, *numbers)
    print(f"{family}: {len(made)} shapes, {len(kept)} inside the range")
    figures = {
        "series open": (lengths.series_open, "open series_length_mm"),
        "series closed": (lengths.series_closed, "closed series_length_mm"),
        "shunt open": (lengths.shunt_open, "open shunt_length_mm"),
        "shunt closed": (lengths.shunt_closed, "closed shunt_length_mm"),
        "volume": (lengths.volume, "closed volume_mm3"),
        "displaced": (lengths.displaced, "displaced"),
        "rise": (lengths.rise, "open rise_mm3"),
    }
    for what, (got, key) in figures.items():
        true = rows[key][keep]
        off = np.abs(np.asarray(got) - true)
        tell(
            f"{family} {what}", len(off), off, "mm" if "s" in what[:2] and what != "volume" else ""
        )
        if "s" in what[0] and what != "volume":
            share = off / np.maximum(0.002 * np.abs(true), 0.01)
            print(f"    {np.mean(share <= 1):.3f} within 0.01 mm or 0.2 %; worst {share.max():.2f}"
                  f" of it: {kept[int(np.argmax(share))]}")  # fmt: skip
        if what == "rise":
            tell("  over k=18/m, of the shunt", len(off),
                 off * 0.018**2 / rows["open shunt_length_mm"][keep], "")  # fmt: skip


def main() -> None:
    """Take in, fit, tell, write."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--add", type=Path, nargs="*", default=[])
    parser.add_argument("--no-check", action="store_true")
    given = parser.parse_args()
    samples = load()
    for path in given.add:
        add(samples, path)
    if given.add:
        save(samples)
        samples = load()
    found: Table = {}
    for part in PARTS:
        rows = samples[part]
        sizes = sizes_of(shapes(rows))
        at = ratios(part, sizes)
        found[part] = {}
        for figure, (y, worth, noise) in targets(part, sizes, rows, found).items():
            held = np.arange(len(y)) % HELD == HELD - 1
            # A closed hole's inertance below its noise says nothing.
            told = held & (np.asarray(noise) < LOUDEST)
            if not given.no_check and np.sum(told) > 1:
                trial = fitted(at[~held], y[~held], noise[~held])
                off = np.abs(np.asarray((evaluate(trial, at[told]) - y[told]) * worth[told]))
                tell(f"{part} {figure}", len(y), off, "mm³" if figure == "rise" else "mm")
            found[part][figure] = fitted(at, y, noise)
    cone = cone_terms(samples["cone"], found)
    flat = {
        f"{part}/{figure}/{field}": np.asarray(value, np.float32 if field == "centres" else float)
        for part, figures in found.items()
        for figure, bumps in figures.items()
        for field, value in bumps._asdict().items()
    }
    np.savez_compressed(TABLE, cone=cone, **flat)
    drawn = sum(count for count, _ in COUNTS.values())
    solved = sum(len(rows["number"]) for rows in samples.values())
    size = TABLE.stat().st_size / 1024
    print(f"{TABLE.name}: {size:.0f} KiB, of {drawn} shapes {solved} are solved")
    for family in WHOLE:
        check_whole(family, samples[family], found, cone)


if __name__ == "__main__":
    main()
