"""Customers' data: handed out whole, erased to a pseudonym; private files, encrypted backups."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.kdf.scrypt import Scrypt
from typer.testing import CliRunner
from workshop import check, fill, make

from borewright.cli import app
from borewright.errors import LedgerError
from borewright.ledger import (
    Ledger,
    back_up,
    customer_data,
    customer_names,
    erase_customer,
    issue_certificate,
    restore,
    sign_off,
    verify,
)

NAME = "Fuß & Söhne"
_ = check


def sold(ledger: Ledger) -> Ledger:
    """The invented workshop with everything made and certified, and a second customer."""
    fill(ledger, contact="Fuß, Quay Street 3", quoted="2031-01-02", note="rings on Mondays: Fuß")
    make(ledger)
    sign_off(ledger, "007", who="Ada")
    issue_certificate(ledger, "007", who="Ada")
    ledger.correct("order", "R", {"plating": "nickel"}, who="Ada", reason=f"{NAME} asked")
    ledger.add("order", {"code": "R2", "customer": "Other Invented", "quantity": 1,
                         "currency": "EUR"}, who="Ada")  # fmt: skip
    ledger.add("source", {"code": "S", "note": f"recommended by {NAME}"}, who="Ada")
    return ledger


def test_everything_on_a_customer_is_handed_out(ledger):
    sold(ledger)
    assert customer_names(ledger) == [NAME, "Other Invented"]
    found = customer_data(ledger, NAME)
    assert [row["contact"] for row in found.orders] == ["Fuß, Quay Street 3"]
    assert [row["code"] for row in found.instruments] == ["007"]
    assert [row["instrument"] for row in found.certificates] == ["007"]
    assert [entry["version"] for entry in found.history] == [1, 2]
    assert "source S" in found.named_in
    assert json.loads(json.dumps(found.as_dict()))["customer"] == NAME
    with pytest.raises(LedgerError, match="no order is of the customer"):
        customer_data(ledger, "Nobody")


def test_erased_means_gone_from_records_history_and_the_file_itself(ledger, place):
    sold(ledger)
    with pytest.raises(LedgerError, match="the reason names the customer"):
        erase_customer(ledger, NAME, who="Ada", reason=f"{NAME} asked for it")
    done = erase_customer(ledger, NAME, who="Ada", reason="asked for on 3 May")
    assert done.orders == ["R"]
    told = [str(each) for each in done.papers]
    assert any("certificate" in each for each in told)
    assert any("quotation of order R, 2031-01-02" in each for each in told)
    assert "source S" in done.named_in
    assert verify(ledger) == []
    row = ledger.get("order", "R")
    assert (row["customer"], row["contact"], row["note"]) == (done.pseudonym, None, None)
    assert row["plating"] == "nickel"
    entries = ledger.history("order", "R")
    assert "Fuß" not in json.dumps([e.data for e in entries], ensure_ascii=False)
    assert NAME not in " ".join(entry.reason for entry in entries)
    assert entries[-1].reason == "asked for on 3 May"
    assert customer_names(ledger) == ["Other Invented", done.pseudonym]
    with pytest.raises(LedgerError):
        customer_data(ledger, NAME)
    # History is closed again: nobody else changes it.
    with pytest.raises(LedgerError), ledger.writing() as connection:
        connection.exec_driver_sql("UPDATE history SET who = 'Eve'")
    if Path(str(place)).is_file():
        ledger.correct("source", "S", {"note": "recommended"}, who="Ada", reason="erased")
        kept = b"".join(p.read_bytes() for p in Path(str(place)).parent.glob("*.ledger*"))
        assert b"Quay Street 3" not in kept


def test_files_are_for_their_owner_alone(tmp_path):
    before = os.umask(0o022)
    try:
        place = tmp_path / "workshop.ledger"
        ledger = Ledger(place, create=True)
        ledger.add("source", {"code": "S"}, who="Ada")
        back_up(ledger, tmp_path / "day.backup")
        for path in tmp_path.iterdir():
            assert path.stat().st_mode & 0o077 == 0, path.name
        place.chmod(0o644)  # as an older release left it
        Ledger(place)
        assert place.stat().st_mode & 0o777 == 0o600
    finally:
        os.umask(before)


def test_a_backup_under_a_passphrase_opens_with_it_alone(tmp_path):
    ledger = fill(Ledger(tmp_path / "workshop.ledger", create=True))
    path, words = tmp_path / "day.backup", "sieben graue Gänse"
    with pytest.raises(LedgerError, match="has 5 letters"):
        back_up(ledger, path, "kurz!")
    back_up(ledger, path, words)
    data = path.read_bytes()
    assert b"PK" not in data[:60]
    for wrong, match in (("", "is under a passphrase"), ("sieben graue Ganse", "not opened")):
        with pytest.raises(LedgerError, match=match):
            restore(tmp_path / "new.ledger", path, passphrase=wrong)
    assert not (tmp_path / "new.ledger").exists()
    restore(tmp_path / "new.ledger", path, passphrase=words)
    assert Ledger(tmp_path / "new.ledger").get("order", "R") == ledger.get("order", "R")
    # The same by hand, from the format's own description: RFC 7914 and NIST SP 800-38D.
    head = b"borewright ledger backup, encrypted 1\n"
    rest = data[len(head) :]
    salt, nonce, sealed = rest[:16], rest[16:28], rest[28:]
    key = Scrypt(salt=salt, length=32, n=2**16, r=8, p=1).derive(words.encode())
    assert AESGCM(key).decrypt(nonce, sealed, head + salt)[:4] == b"PK\x03\x04"
    for at in (len(head) + 3, len(head) + 20, len(data) // 2, len(data) - 1):
        hurt = bytearray(data)
        hurt[at] ^= 1
        path.write_bytes(hurt)
        with pytest.raises(LedgerError, match="or was changed"):
            restore(tmp_path / "newer.ledger", path, passphrase=words)


def test_the_commands(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    sold(Ledger("workshop.ledger", create=True)).engine.dispose()
    runner = CliRunner()

    def run(*words: str) -> str:
        done = runner.invoke(app, ["ledger", *words])
        assert done.exit_code == 0, done.output
        return done.stdout

    assert run("customers") == f"{NAME}\nOther Invented\n"
    run("hand-out", NAME, "--output", "fuss.json")
    assert json.loads(Path("fuss.json").read_text(encoding="utf-8"))["orders"]
    assert Path("fuss.json").stat().st_mode & 0o077 == 0
    told = run("erase-customer", NAME, "--reason", "asked", "--who", "Ada")
    assert "Orders now of 'customer " in told
    assert "The name still stands in: source S" in told
    assert "destroy those made before" in told
    run("backup", "day.backup", "--passphrase", "sieben graue Gänse")
    run("restore", "day.backup", "--passphrase", "sieben graue Gänse", "--ledger", "n.ledger")
