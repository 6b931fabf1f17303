"""One chunk of a study: solved, as the bytes of a Parquet file, and read back."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import NamedTuple

import numpy as np

from borewright.acoustics.builds import frequencies_of_builds
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.studies.plan import Study

_KEY = b"borewright"


class Chunk(NamedTuple):
    """Cents of every fingering of some builds, and how many were solved by the counting sweep."""

    cents: np.ndarray  # [B, F] float32, against the pitch standard; NaN for a lost note
    by_sweep: int


def chunk_path(folder: Path, chunk: int) -> Path:
    """Where a chunk is kept."""
    return folder / f"chunk-{chunk:08d}.parquet"


def solve_chunk(study: Study, chunk: int) -> bytes:
    """Solve a chunk: the bytes of its Parquet file, the same each time.

    One column a fingering with cents against the pitch standard (single precision: 1e-5 cent),
    one with the builds' numbers; the schema's metadata carry the study's hash and the chunk's
    number.
    """
    import pyarrow as pa
    import pyarrow.parquet as pq

    start, stop = study.rows(chunk)
    found, by_sweep = frequencies_of_builds(study.request, *study.values(start, stop))
    cents = (CENTS_PER_LOG * np.log(found / study.target_hz)).astype(np.float32)
    head = {"digest": study.digest, "chunk": chunk, "by_sweep": by_sweep}
    columns = {"build": pa.array(np.arange(start, stop, dtype=np.int64))}
    for column, fingering in enumerate(study.table.fingerings):
        columns[fingering.name] = pa.array(cents[:, column])
    table = pa.table(columns).replace_schema_metadata({_KEY: json.dumps(head).encode()})
    stream = io.BytesIO()
    pq.write_table(
        table, stream, compression="zstd", use_dictionary=False, write_page_checksum=True
    )
    return stream.getvalue()


def is_kept(study: Study, chunk: int, folder: Path) -> bool:
    """Whether a chunk of this study lies whole in its folder, by the end of its file alone."""
    import pyarrow as pa
    import pyarrow.parquet as pq

    path = chunk_path(folder, chunk)
    if not path.is_file():
        return False
    try:
        found = pq.read_metadata(path)
        head = json.loads(found.metadata[_KEY])
    except (pa.ArrowException, OSError, KeyError, TypeError, ValueError):
        return False  # half a disk's block is no reason to stop: it is solved again
    start, stop = study.rows(chunk)
    ours = head.get("digest") == study.digest and head.get("chunk") == chunk
    return bool(ours and found.num_rows == stop - start)


def read_chunk(study: Study, chunk: int, folder: Path) -> Chunk | None:
    """A chunk as it was kept; None where it is missing, broken, or of another study."""
    import pyarrow as pa
    import pyarrow.parquet as pq

    path = chunk_path(folder, chunk)
    if not path.is_file():
        return None
    try:
        table = pq.read_table(path, page_checksum_verification=True)
        head = json.loads(table.schema.metadata[_KEY])
        builds = table.column("build").to_numpy()
        cents = [table.column(one.name).to_numpy() for one in study.table.fingerings]
    except (pa.ArrowException, OSError, KeyError, TypeError, ValueError):
        return None
    start, stop = study.rows(chunk)
    whole = len(builds) == stop - start and builds[0] == start and builds[-1] == stop - 1
    if not whole or head.get("digest") != study.digest or head.get("chunk") != chunk:
        return None
    return Chunk(np.stack(cents, axis=1), int(head["by_sweep"]))
