"""The whole ledger in one file, and what must hold before such a file is believed.

A backup is a ZIP archive: ``manifest.json``, one file of JSON lines a table, and the kept
files. The manifest holds size and SHA-256 of every member; the archive's comment, the last
bytes of all, holds the SHA-256 of everything before it. So a file cut short, or with one byte
changed, is refused.
"""

from __future__ import annotations

import hashlib
import io
import json
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from sqlalchemy import Boolean, Connection, Date, Float, Integer, Table, select

from borewright.errors import LedgerError
from borewright.ledger.encrypting import decrypted, encrypted, is_encrypted
from borewright.ledger.schema import NEWEST, REVISIONS, Exact, metadata, stored_files
from borewright.ledger.store import Ledger
from borewright.ledger.verifying import verify_within
from borewright.model import write_bytes
from borewright.words import Text, say

FORMAT = 1
COMMENT = b"borewright ledger backup, content "
_DIGITS = 64
LARGEST_MANIFEST = 64_000_000
_CHUNK_ROWS = 2000
_encode = json.JSONEncoder(ensure_ascii=False).encode


@dataclass(frozen=True)
class BackupSummary:
    """What a backup holds."""

    made_at: str
    schema: str
    rows: dict[str, int]
    files: int


class Backup:
    """A backup that has been read and found whole.

    Raises LedgerError where it is cut short, changed, of a newer release, or no backup.
    """

    def __init__(self, path: Path | str, passphrase: str = "") -> None:
        self.place = str(path)
        try:
            data = Path(path).read_bytes()
            if is_encrypted(data):
                data = decrypted(data, passphrase, self.place)
            self._archive = zipfile.ZipFile(io.BytesIO(data))
        except OSError as error:
            raise LedgerError(
                say("cannot be read ({why})", why=str(error.strerror or error)),
                place=self.place,
                remedy=say("Look whether the file is there and may be read."),
            ) from error
        except (zipfile.BadZipFile, ValueError, NotImplementedError, IndexError) as error:
            raise self._unsound(say("it is no whole archive")) from error
        try:
            if not is_sealed(data):
                raise self._unsound(say("it is not the content that was written"))
            self.manifest = self._manifest()
            self._check_members()
        except (KeyError, TypeError, AttributeError, ValueError, NotImplementedError) as error:
            raise self._unsound(say("its manifest makes no sense")) from error

    @property
    def summary(self) -> BackupSummary:
        """What it holds."""
        tables = self.manifest["tables"]
        rows = {name: table["rows"] for name, table in tables.items()}
        made, schema = self.manifest["made_at"], self.manifest["schema"]
        return BackupSummary(made, schema, rows, len(self.manifest["files"]))

    def rows(self, table: str) -> Iterator[dict[str, Any]]:
        """The rows of a table, by column."""
        names = [name for name, _ in self.manifest["tables"][table]["columns"]]
        with self._archive.open(f"tables/{table}.jsonl") as stream:
            for line in stream:
                yield dict(zip(names, json.loads(line), strict=True))

    def file(self, sha256: str) -> bytes:
        """The content of a kept file."""
        return self._archive.read(f"files/{sha256}")

    def _unsound(self, why: Text) -> LedgerError:
        return unsound(self.place, why)

    def _manifest(self) -> dict[str, Any]:
        try:
            if self._archive.getinfo("manifest.json").file_size > LARGEST_MANIFEST:
                raise self._unsound(say("its manifest is far too large"))
            text = self._archive.read("manifest.json")
        except (KeyError, zipfile.BadZipFile, zlib.error, EOFError, OSError) as error:
            raise self._unsound(say("its manifest cannot be read")) from error
        manifest: dict[str, Any] = json.loads(text)
        if manifest.get("format") != FORMAT or manifest.get("schema") not in REVISIONS:
            raise LedgerError(
                say(
                    "is a backup of format {format}, schema {schema}, and this release knows "
                    "format {known} and schemas up to {newest}",
                    format=str(manifest.get("format")),
                    schema=str(manifest.get("schema")),
                    known=FORMAT,
                    newest=NEWEST,
                ),
                place=self.place,
                remedy=say("Update Borewright; nothing was changed."),
            )
        return manifest

    def _check_members(self) -> None:
        members = self.manifest["members"]
        present = [info.filename for info in self._archive.infolist()]
        if sorted(present) != sorted([*members, "manifest.json"]):
            raise self._unsound(say("files in it are missing or were added"))
        for name, known in members.items():
            digest, size = hashlib.sha256(), 0
            try:
                with self._archive.open(name) as stream:
                    while block := stream.read(1 << 20):
                        digest.update(block)
                        size += len(block)
                        if size > known["size"]:
                            break
            except (zipfile.BadZipFile, zlib.error, EOFError, OSError) as error:
                raise self._unsound(say("'{name}' in it is damaged", name=name)) from error
            if size != known["size"] or digest.hexdigest() != known["sha256"]:
                raise self._unsound(say("'{name}' in it was changed", name=name))


def back_up(ledger: Ledger, path: Path | str, passphrase: str = "") -> BackupSummary:
    """Write the whole ledger into one file, read back and found whole before it is in place.

    Only its owner may read the file; with a passphrase only who knows it can.

    Raises LedgerError where the ledger itself is not whole, so that no bad backup takes the
    place of a good one.
    """
    stream = io.BytesIO()
    with ledger.reading() as connection:
        wrong = verify_within(connection)
        if wrong:
            cause = say("is not whole ({wrong})", wrong=wrong[0])
            if wrong[1:]:
                cause = say(
                    "is not whole ({wrong}, and {count} more)", wrong=wrong[0], count=len(wrong) - 1
                )
            raise LedgerError(
                cause,
                place=ledger.shown_place,
                remedy=say("Verify the ledger; an older backup may still be good."),
            )
        _write_archive(connection, stream)
    data = sealed(stream.getvalue())
    if passphrase:
        data = encrypted(data, passphrase)
    write_bytes(path, data, private=True)
    if Path(path).read_bytes() != data:
        raise LedgerError(
            say("does not read back as it was written"),
            place=str(path),
            remedy=say("Write it to another disk; this one does not keep what it is given."),
        )
    return Backup(path, passphrase).summary


def unsound(place: str, why: Text) -> LedgerError:
    """What is said of a backup that cannot be believed."""
    return LedgerError(
        say("is not a sound backup: {why}", why=why),
        place=place,
        remedy=say("Use another backup; nothing was changed."),
    )


def sealed(data: bytes) -> bytes:
    """An archive whose comment, so far zeros, tells the digest of everything before it."""
    content = data[:-_DIGITS]
    return content + hashlib.sha256(content).hexdigest().encode()


def is_sealed(data: bytes) -> bool:
    """Whether an archive is whole and as it was written."""
    return data[:-_DIGITS].endswith(COMMENT) and sealed(data) == data


def _write_archive(connection: Connection, stream: io.BytesIO) -> None:
    members: dict[str, dict[str, Any]] = {}
    tables: dict[str, dict[str, Any]] = {}
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED, compresslevel=3) as archive:
        for table in metadata.sorted_tables:
            name = f"tables/{table.name}.jsonl"
            columns = [column for column in table.columns if column.name != "content"]
            with archive.open(name, "w", force_zip64=True) as member:
                digest, size, rows = hashlib.sha256(), 0, 0
                result = connection.execution_options(yield_per=_CHUNK_ROWS).execute(
                    select(*columns).order_by(*table.primary_key.columns)
                )
                for part in result.partitions():
                    lines = [_encode([_plain(v) for v in row]) for row in part]
                    block = ("\n".join(lines) + "\n").encode()
                    member.write(block)
                    digest.update(block)
                    size, rows = size + len(block), rows + len(lines)
            members[name] = {"size": size, "sha256": digest.hexdigest()}
            kinds = [[column.name, kind_of(table, column.name)] for column in columns]
            tables[table.name] = {"rows": rows, "columns": kinds}
        files = connection.execute(select(stored_files.c.sha256)).scalars().all()
        for sha256 in files:
            content = connection.execute(
                select(stored_files.c.content).where(stored_files.c.sha256 == sha256)
            ).scalar_one()
            archive.writestr(f"files/{sha256}", bytes(content))
            members[f"files/{sha256}"] = {"size": len(content), "sha256": sha256}
        manifest = {
            "format": FORMAT,
            "schema": NEWEST,
            "made_at": datetime.now(UTC).isoformat(timespec="seconds"),
            "tables": tables,
            "files": list(files),
            "members": members,
        }
        text = json.dumps(manifest, indent=1).encode()
        archive.writestr("manifest.json", text)
        archive.comment = COMMENT + b"0" * _DIGITS


def kind_of(table: Table, column: str) -> str:
    """How a column's values stand in a backup: text, whole, figure, day or yes-no."""
    kind = table.c[column].type
    if isinstance(kind, Exact):
        return "text"
    pairs = ((Boolean, "yes-no"), (Integer, "whole"), (Float, "figure"), (Date, "day"))
    return next((name for one, name in pairs if isinstance(kind, one)), "text")


def _plain(value: Any) -> Any:
    if value is None or isinstance(value, str | int | float):
        return value
    return value.isoformat() if isinstance(value, date) else f"{value:f}"
