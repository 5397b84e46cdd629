"""OWASP ASVS 5.0.0, chapter V11: which algorithms, which randomness, which hashes.

Strength in bits: NIST SP 800-57 part 1 rev. 5, table 2 (P-256: 128 bits); Ed25519: about 128 bits
(RFC 8032, section 8.5). Hashes that may be used: 11.4.1 and appendix C of the standard.
"""

import ast
import re
import secrets
from pathlib import Path

from cryptography.hazmat.primitives.asymmetric.ec import SECP256R1, EllipticCurvePublicKey
from cryptography.hazmat.primitives.hashes import SHA256, SHA384, SHA512
from cryptography.x509 import load_pem_x509_certificates
from django.conf import settings
from django.contrib.auth.hashers import get_hasher, identify_hasher, make_password
from django.core.signing import Signer as CookieSigner

from certs.project.settings import PASSWORD_HASHERS
from inventory.rules.second_step import RECOVERY_BYTES
from inventory.rules.signing import Purpose
from inventory.rules.tag_code import BITS
from inventory.services import people, stranger
from inventory.services.keyring import signer_for
from tests.factories import given_keys

SOURCES = [
    path
    for app in ("certs", "inventory")
    for path in sorted((settings.ROOT / app).rglob("*.py"))
    if "migrations" not in path.parts
]
WEAK = {"md5", "sha1", "new", "DES", "TripleDES", "ARC4", "Blowfish", "RC2", "ECB", "CBC"}
# Invented data alone: its force logs look as if measured.
INVENTED = "demo"


def parsed(path: Path):
    return ast.walk(ast.parse(path.read_text(), str(path)))


def imported(path):
    for node in parsed(path):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield str(node.module)
            yield from (f"{node.module}.{name.name}" for name in node.names)


def test_11_5_1_chance_comes_from_the_operating_system():
    used = [path for path in SOURCES if {"random", "numpy.random"} & set(imported(path))]
    assert [path.name for path in used if path.parent.name != INVENTED] == []


def test_11_2_1_and_11_4_1_no_weak_hash_or_cipher_is_named():
    used = {
        f"{path.name}: {node.attr}"
        for path in SOURCES
        for node in parsed(path)
        if isinstance(node, ast.Attribute)
        and node.attr in WEAK
        and isinstance(node.value, ast.Name)
        and node.value.id in {"hashlib", "hashes", "algorithms", "modes"}
    }
    assert used == set()


def test_11_2_1_every_hash_is_of_the_sha_2_family():
    used = {
        node.attr
        for path in SOURCES
        for node in parsed(path)
        if isinstance(node, ast.Attribute)
        and isinstance(node.value, ast.Name)
        and node.value.id == "hashlib"
    }
    assert used
    assert used <= {"sha256", "sha384", "sha512"}


def test_11_2_3_keys_have_at_least_128_bits_of_strength(db):
    given_keys()
    assert signer_for(Purpose.LOG).algorithm == "Ed25519"
    assert signer_for(Purpose.CREDENTIAL).algorithm == "Ed25519"
    paper = signer_for(Purpose.PAPER)
    assert paper.algorithm == "ES256"
    for certificate in load_pem_x509_certificates(paper.certificate_pem.encode()):
        public = certificate.public_key()
        assert isinstance(public, EllipticCurvePublicKey)
        assert isinstance(public.curve, SECP256R1)
        assert isinstance(certificate.signature_hash_algorithm, (SHA256, SHA384, SHA512))


def test_11_4_2_pass_phrases_are_stretched_by_a_function_that_needs_memory(settings):
    settings.PASSWORD_HASHERS = PASSWORD_HASHERS
    kept = make_password("four horses in a field")
    assert identify_hasher(kept).algorithm == "argon2"
    # 19 MiB, two passes: OWASP Password Storage Cheat Sheet, the least for Argon2id.
    hasher = get_hasher("argon2")
    assert (hasher.memory_cost >= 19 * 1024, hasher.time_cost >= 2) == (True, True)
    assert kept.startswith("argon2$argon2id$")


def test_11_5_1_what_is_never_typed_has_at_least_128_bits():
    script = (settings.ROOT / ".tools/environment").read_text()
    secret_key = re.search(r"token_urlsafe\((\d+)\)", script)
    assert secret_key
    assert int(secret_key[1]) * 8 >= 128
    assert people._SALT_BYTES * 8 >= 128  # noqa: SLF001 -- its length is the point
    assert stranger._SALT_BYTES * 8 >= 128  # noqa: SLF001 -- the same


def test_what_a_person_types_has_as_many_bits_as_can_be_typed():
    # Fewer than 128 on purpose; guessing them is slowed as well (6.3.1).
    assert RECOVERY_BYTES * 8 >= 112
    assert BITS >= 75


def test_11_3_3_cookies_are_signed_with_a_hash_of_256_bits():
    assert CookieSigner(key=secrets.token_hex(32)).algorithm == "sha256"
