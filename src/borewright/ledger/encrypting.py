"""Backups under a passphrase: AES-256-GCM with a key by scrypt, both by the library cryptography.

Scrypt (RFC 7914) makes every guess cost 64 MB and some tenths of a second; GCM (NIST SP 800-38D)
notices every changed byte. Who loses the passphrase has lost the backup.
"""

from __future__ import annotations

import os

from borewright.errors import LedgerError
from borewright.words import Text, say

HEAD = b"borewright ledger backup, encrypted 1\n"
_SALT, _NONCE = 16, 12
_N, _R, _P = 2**16, 8, 1
SHORTEST = 8


def is_encrypted(data: bytes) -> bool:
    """Whether a backup is under a passphrase."""
    return data.startswith(HEAD)


def encrypted(data: bytes, passphrase: str) -> bytes:
    """The backup as only the passphrase opens it; LedgerError for one that is too short."""
    from cryptography.hazmat.primitives.ciphers.aead import AESGCM

    if len(passphrase) < SHORTEST:
        raise LedgerError(
            say("the passphrase has {letters} letters", letters=len(passphrase)),
            place="--passphrase",
            remedy=say("Give at least {least}; several words are good.", least=SHORTEST),
        )
    salt, nonce = os.urandom(_SALT), os.urandom(_NONCE)
    return HEAD + salt + nonce + AESGCM(_key(passphrase, salt)).encrypt(nonce, data, HEAD + salt)


def decrypted(data: bytes, passphrase: str, place: Text) -> bytes:
    """The backup itself. LedgerError without the right passphrase, or where a byte was changed."""
    from cryptography.exceptions import InvalidTag
    from cryptography.hazmat.primitives.ciphers.aead import AESGCM

    if not passphrase:
        raise LedgerError(
            say("is under a passphrase"),
            place=place,
            remedy=say("Give it with --passphrase, or in BOREWRIGHT_PASSPHRASE."),
        )
    start = len(HEAD)
    salt = data[start : start + _SALT]
    nonce = data[start + _SALT : start + _SALT + _NONCE]
    try:
        return AESGCM(_key(passphrase, salt)).decrypt(
            nonce, data[start + _SALT + _NONCE :], HEAD + salt
        )
    except (InvalidTag, ValueError) as error:
        raise LedgerError(
            say("is not opened by this passphrase, or was changed"),
            place=place,
            remedy=say("Type the passphrase again; if it is right, use another backup."),
        ) from error


def _key(passphrase: str, salt: bytes) -> bytes:
    import unicodedata

    from cryptography.hazmat.primitives.kdf.scrypt import Scrypt

    text = unicodedata.normalize("NFKC", passphrase).encode()
    return Scrypt(salt=salt, length=32, n=_N, r=_R, p=_P).derive(text)
