"""A certificate of the bench's own, so that tablets in the workshop speak with it encrypted.

Made once and kept beside the settings of the person; a tablet asks once whether it trusts it, and
the fingerprint printed at the start is what to compare.
"""

from __future__ import annotations

import ipaddress
import os
import socket
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import NamedTuple

from borewright.errors import BenchError
from borewright.words import say

_DAYS = 397  # the longest that browsers take (CA/Browser Forum, Baseline Requirements 6.3.2)
_NAME = "Borewright bench"


class Certificate(NamedTuple):
    """Files of certificate and key, and the certificate's SHA-256 to compare by."""

    certificate: Path
    key: Path
    fingerprint: str


def own_certificate(folder: Path, host: str) -> Certificate:
    """The certificate kept in ``folder``, made anew where it is absent, old or for another host.

    Raises BenchError where it cannot be written.
    """
    from cryptography import x509

    certificate, key = folder / "bench.crt", folder / "bench.key"
    try:
        if certificate.is_file() and key.is_file():
            found = x509.load_pem_x509_certificate(certificate.read_bytes())
            names = found.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
            fits = set(_names(host)) <= set(names)
            if fits and found.not_valid_after_utc > datetime.now(UTC) + timedelta(days=7):
                return Certificate(certificate, key, fingerprint(certificate))
    except (ValueError, x509.ExtensionNotFound):
        pass  # no certificate any more: it is made anew
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        _make(certificate, key, host)
    except OSError as error:
        raise BenchError(
            say("the certificate cannot be kept ({why})", why=error.strerror or str(error)),
            place=str(folder),
            remedy=say("Make room there, or give one with --certificate and --key."),
        ) from error
    return Certificate(certificate, key, fingerprint(certificate))


def given_certificate(certificate: Path, key: Path) -> Certificate:
    """Certificate and key from files of one's own. BenchError where they are none."""
    import ssl

    try:
        found = Certificate(certificate, key, fingerprint(certificate))
        ssl.create_default_context(ssl.Purpose.CLIENT_AUTH).load_cert_chain(certificate, key)
    except (OSError, ValueError) as error:
        raise BenchError(
            say("certificate and key cannot be used together"),
            place=(str(certificate), str(key)),
            remedy=say("Give both as PEM files that belong together, the key without password."),
        ) from error
    return found


def fingerprint(certificate: Path) -> str:
    """SHA-256 of a certificate, in pairs of digits as browsers show it."""
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes

    found = x509.load_pem_x509_certificate(certificate.read_bytes())
    return found.fingerprint(hashes.SHA256()).hex(":").upper()


def _make(certificate: Path, key: Path, host: str) -> None:
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes, serialization
    from cryptography.hazmat.primitives.asymmetric import ec
    from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

    private = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, _NAME)])
    now = datetime.now(UTC)
    made = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(private.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + timedelta(days=_DAYS))
        .add_extension(x509.SubjectAlternativeName(_names(host)), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(private, hashes.SHA256())
    )
    _keep(
        key,
        private.private_bytes(
            serialization.Encoding.PEM,
            serialization.PrivateFormat.PKCS8,
            serialization.NoEncryption(),
        ),
    )
    _keep(certificate, made.public_bytes(serialization.Encoding.PEM))


def _keep(path: Path, data: bytes) -> None:
    """Write a file that only its owner may read."""
    path.unlink(missing_ok=True)
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as stream:
        stream.write(data)


def _names(host: str):  # type: ignore[no-untyped-def]
    """Names and addresses that the certificate is for."""
    from cryptography import x509

    names: list[x509.GeneralName] = [x509.DNSName("localhost")]
    machine = socket.gethostname()
    names += [x509.DNSName(machine)] if machine and machine != "localhost" else []
    addresses = {"127.0.0.1", "::1"}
    try:
        addresses.add(str(ipaddress.ip_address(host)))
    except ValueError:
        names += [x509.DNSName(host)] if host not in ("localhost", machine) else []
    addresses -= {"0.0.0.0", "::"}
    if host in ("0.0.0.0", "::"):
        addresses |= _own_addresses()
    return [*names, *[x509.IPAddress(ipaddress.ip_address(one)) for one in sorted(addresses)]]


def _own_addresses() -> set[str]:
    """Addresses of this machine in its network, as far as it knows them."""
    try:
        found = socket.getaddrinfo(socket.gethostname(), None, proto=socket.IPPROTO_TCP)
    except OSError:
        return set()
    return {str(one[4][0]).split("%")[0] for one in found}


def served_encrypted(
    host: str, wished: bool, certificate: Path | None, key: Path | None
) -> Certificate | None:
    """The certificate to serve with: one's own, one made here if wished, or none."""
    if (certificate is None) != (key is None):
        raise BenchError(
            say("certificate and key belong together"),
            place=("--certificate", "--key"),
            remedy=say("Give both, or --encrypted alone."),
        )
    if certificate is not None and key is not None:
        return given_certificate(certificate, key)
    if not wished:
        return None
    base = os.environ.get("XDG_DATA_HOME")
    kept = Path(base) if base else Path.home() / ".local" / "share"
    return own_certificate(kept / "borewright", host)
