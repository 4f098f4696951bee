"""A household's own certificate authority, so that phones on the home network get https.

The root may only speak for names that end in `.local`, for this machine's own name and for private addresses: a root that
leaked could not stand in for anything on the internet. Its key stays in the data folder, readable by its owner alone.
"""

from __future__ import annotations

import datetime
import ipaddress
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from server.whole_file import beside

ROOT_DAYS = 3650
LEAF_DAYS = 397
"""Phones take no longer-lived ones. [d] Source: CA/Browser Forum baseline requirements."""
RENEW_BEFORE_DAYS = 30
PRIVATE = ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8", "100.64.0.0/10", "fc00::/7",
           "fe80::/10", "::1/128")  # fmt: skip
"""Addresses that are never on the internet. Source: RFC 1918, 3927, 4193, 4291, 6598."""


@dataclass(frozen=True)
class Certificates:
    """Files: the root that phones have to trust, and what the server shows, with its key."""

    root: Path
    leaf: Path
    key: Path


def ensure_certificates(folder: Path, names: Sequence[str], now: datetime.datetime) -> Certificates:
    """Make (or renew) what is missing in `folder`. names: host names and addresses the server is reached by."""
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    found = Certificates(folder / "root.crt", folder / "server.crt", folder / "server.key")
    root_key_file = folder / "root.key"
    if not found.root.exists() or not root_key_file.exists():
        root_key = ec.generate_private_key(ec.SECP256R1())
        _write(root_key_file, _pem(root_key), 0o600)
        _write(found.root, _root(root_key, names, now).public_bytes(serialization.Encoding.PEM), 0o644)
        found.leaf.unlink(missing_ok=True)
    root = x509.load_pem_x509_certificate(found.root.read_bytes())
    if not _still_good(found, names, now):
        signer = serialization.load_pem_private_key(root_key_file.read_bytes(), None)
        assert isinstance(signer, ec.EllipticCurvePrivateKey)
        key = ec.generate_private_key(ec.SECP256R1())
        leaf = _leaf(key, root, signer, names, now)
        _write(found.key, _pem(key), 0o600)
        _write(found.leaf, leaf.public_bytes(serialization.Encoding.PEM), 0o644)
    return found


def _still_good(found: Certificates, names: Sequence[str], now: datetime.datetime) -> bool:
    if not found.leaf.exists() or not found.key.exists():
        return False
    leaf = x509.load_pem_x509_certificate(found.leaf.read_bytes())
    held = leaf.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    left = leaf.not_valid_after_utc - now
    return set(held) == set(_alternatives(names)) and left > datetime.timedelta(days=RENEW_BEFORE_DAYS)


def _root(key: ec.EllipticCurvePrivateKey, names: Sequence[str], now: datetime.datetime) -> x509.Certificate:
    own = [name for name in names if not _address(name) and not name.endswith(".local")]
    permitted: list[x509.GeneralName] = [x509.DNSName("local"), *(x509.DNSName(name) for name in own)]
    networks = [ipaddress.ip_network(network) for network in PRIVATE]
    given = [address for name in names if (address := _address(name))]
    networks += [ipaddress.ip_network(one) for one in given if not any(one in network for network in networks)]
    permitted += [x509.IPAddress(network) for network in networks]
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"Mudproof at home {now:%Y-%m-%d}")])
    return (
        _builder(name, name, key, now, ROOT_DAYS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signing=True), critical=True)
        .add_extension(x509.NameConstraints(permitted, None), critical=True)
        .sign(key, hashes.SHA256())
    )


def _leaf(
    key: ec.EllipticCurvePrivateKey,
    root: x509.Certificate,
    signer: ec.EllipticCurvePrivateKey,
    names: Sequence[str],
    now: datetime.datetime,
) -> x509.Certificate:
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Mudproof")])
    return (
        _builder(subject, root.subject, key, now, LEAF_DAYS)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signing=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName(_alternatives(names)), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(signer.public_key()), critical=False)
        .sign(signer, hashes.SHA256())
    )


def _builder(
    subject: x509.Name, issuer: x509.Name, key: ec.EllipticCurvePrivateKey, now: datetime.datetime, days: int
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - datetime.timedelta(days=1))  # a phone's clock may be behind
        .not_valid_after(now + datetime.timedelta(days=days - 1))
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
    )


def _usage(signing: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signing,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=signing,
        crl_sign=signing,
        encipher_only=False,
        decipher_only=False,
    )


def _alternatives(names: Sequence[str]) -> list[x509.GeneralName]:
    found: list[x509.GeneralName] = []
    for name in dict.fromkeys(names):
        address = _address(name)
        found.append(x509.IPAddress(address) if address else x509.DNSName(name))
    return found


def _address(name: str) -> ipaddress.IPv4Address | ipaddress.IPv6Address | None:
    try:
        return ipaddress.ip_address(name)
    except ValueError:
        return None


def _pem(key: ec.EllipticCurvePrivateKey) -> bytes:
    return key.private_bytes(serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption())


def _write(path: Path, data: bytes, mode: int) -> None:
    """Never a moment readable by others, never half there."""
    with beside(path, mode) as temporary:
        temporary.write_bytes(data)
