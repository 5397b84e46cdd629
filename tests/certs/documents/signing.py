"""Keys, papers and a pretended time-stamp service for tests of signatures; no network, no files."""

from datetime import UTC, datetime, timedelta
from functools import cache

from asn1crypto import keys
from asn1crypto import x509 as asn1_x509
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec, rsa
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID
from pyhanko.sign.timestamps.dummy_client import DummyTimeStamper

from certs.documents.paper import Enclosure, print_paper
from inventory.documents.house_certificate import chain_pem, make_leaf, make_root
from inventory.rules.signing import Purpose, key_name
from inventory.services.key_files import public_bytes
from inventory.services.open_keys import FileSigner

AT = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
STAMPER_LASTS = timedelta(days=1095)
HOUSE = "Invented Stockist"


def plain_pdf():
    page = "<html lang='en-GB'><head><title>Paper</title></head><body><h1>10 kN</h1></body></html>"
    data = Enclosure("certificate.json", b'{"force":"10 kN"}', "The data of this paper")
    return print_paper(page, identifier=b"1" * 16, made_at=AT, enclosures=[data])


class PaperHouse:
    """A root and a paper key."""

    def __init__(self, since=AT):
        self.root = make_root(_new(), house=HOUSE, is_evaluation=False, at=since)
        key = _new()
        leaf = make_leaf(
            key.public_key(), root=self.root, house=HOUSE, is_evaluation=False, at=since
        )
        public = public_bytes(key)
        self.signer = FileSigner(
            Purpose.PAPER,
            key_name(Purpose.PAPER, public),
            public,
            chain_pem(leaf, self.root.certificate),
            is_evaluation=False,
            key=key,
        )

    @property
    def chains(self):
        return {self.signer.name: self.signer.certificate_pem}

    @property
    def root_pem(self):
        return chain_pem(self.root.certificate)

    def revocation_list(self, at):
        return revocation_list_of(self.root, at)


class StampHouse:
    """A time-stamp service with a root of its own; RSA, as the stand-in knows no other.

    Or under the root of the service before it. Its certificate may say where lists of revoked
    certificates lie.
    """

    def __init__(self, name="Invented Clock", since=AT, *, root=None, lists_at=""):
        self.root = root or make_root(_new(), house=name, is_evaluation=False, at=since)
        self._key = _stamp_key()
        subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"{name}: stamps")])
        begun = (
            x509.CertificateBuilder()
            .subject_name(subject)
            .issuer_name(self.root.certificate.subject)
            .public_key(self._key.public_key())
            .serial_number(x509.random_serial_number())
            .not_valid_before(since)
            .not_valid_after(since + STAMPER_LASTS)
            .add_extension(
                x509.ExtendedKeyUsage([ExtendedKeyUsageOID.TIME_STAMPING]), critical=True
            )
        )
        if lists_at:
            point = x509.DistributionPoint(
                [x509.UniformResourceIdentifier(lists_at)], None, None, None
            )
            begun = begun.add_extension(x509.CRLDistributionPoints([point]), critical=False)
        self._certificate = begun.sign(self.root.key, hashes.SHA256())

    @property
    def root_pem(self):
        return chain_pem(self.root.certificate)

    def stamper(self, at):
        """The service as it answers at this moment."""
        der = self._key.private_bytes(
            serialization.Encoding.DER,
            serialization.PrivateFormat.PKCS8,
            serialization.NoEncryption(),
        )
        certificate = self._certificate.public_bytes(serialization.Encoding.DER)
        return DummyTimeStamper(
            tsa_cert=asn1_x509.Certificate.load(certificate),
            tsa_key=keys.PrivateKeyInfo.load(der),
            fixed_dt=at,
        )

    def revocation_list(self, at):
        return revocation_list_of(self.root, at)


def revocation_list_of(root, at):
    """A list of this root with nothing in it, good for 35 days."""
    authority = x509.AuthorityKeyIdentifier.from_issuer_public_key(root.key.public_key())
    listed = (
        x509.CertificateRevocationListBuilder()
        .issuer_name(root.certificate.subject)
        .last_update(at)
        .next_update(at + timedelta(days=35))
        .add_extension(authority, critical=False)
        .add_extension(x509.CRLNumber(int(at.timestamp())), critical=False)
    )
    signed = listed.sign(root.key, hashes.SHA256())
    return signed.public_bytes(serialization.Encoding.DER)


@cache
def _stamp_key():
    """One for all, as it takes long to make."""
    return rsa.generate_private_key(public_exponent=65537, key_size=2048)


def _new():
    return ec.generate_private_key(ec.SECP256R1())
