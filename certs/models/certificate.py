"""Certificates: drafted from the record, frozen when issued, never changed after."""

from typing import ClassVar

from django.db import models
from django.db.models import Q

from inventory.rules.language import Language

FROZEN = ["issued", "superseded", "withdrawn"]


class Certificate(models.Model):
    """A paper and its frozen snapshot.

    The snapshot is canonical JSON (RFC 8785); the PDF is made from it and from nothing else.
    """

    class Kind(models.TextChoices):
        CUT_LENGTH = "cut_length", "certificate for cut lengths"
        ASSEMBLY = "assembly", "test certificate of an assembly"
        BREAKING = "breaking", "breaking-force test report"

    class State(models.TextChoices):
        DRAFT = "draft", "draft"
        ISSUED = "issued", "issued"
        SUPERSEDED = "superseded", "superseded"
        WITHDRAWN = "withdrawn", "withdrawn"

    class DocumentKind(models.TextChoices):
        STATEMENT = "statement", "traceability statement (not a document of EN 10204)"
        DECLARATION = "2.1", "2.1 declaration of compliance"
        TEST_REPORT = "2.2", "2.2 test report"
        CERTIFICATE_31 = "3.1", "3.1 inspection certificate"
        CERTIFICATE_32 = "3.2", "3.2 inspection certificate"
        LABORATORY = "laboratory", "test report on the sample tested"

    # Known from the draft on.
    draft_code = models.CharField(max_length=16, unique=True)
    kind = models.CharField(max_length=12, choices=Kind.choices)
    document_kind = models.CharField(max_length=12, choices=DocumentKind.choices)
    state = models.CharField(max_length=12, choices=State.choices, default=State.DRAFT)
    customer = models.ForeignKey(
        "inventory.Party",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="certificates",
    )
    customer_reference = models.CharField(max_length=60, blank=True)
    assembly = models.ForeignKey(
        "inventory.Assembly",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="certificates",
    )
    breaking_test = models.ForeignKey(
        "certs.BreakingTest",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="certificates",
    )
    remarks = models.CharField(max_length=400, blank=True)
    # In which the paper is printed; what was measured and derived stands in English beside it.
    language = models.CharField(
        max_length=8,
        choices=[(one.value, one.own_name) for one in Language],
        default=Language.ENGLISH.value,
    )
    # The working load limit that is marked on an assembly, where it is not the one derived.
    marked_kg = models.PositiveIntegerField(null=True, blank=True)
    replaces = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="replaced_by"
    )
    replace_reason = models.CharField(max_length=300, blank=True)
    first_validator = models.ForeignKey(
        "certs.Representative", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    second_validator = models.ForeignKey(
        "certs.Representative", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    drafted_at = models.DateTimeField()
    drafted_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    # Set once, when issued.
    number = models.CharField(max_length=24, unique=True, null=True, blank=True)
    issued_at = models.DateTimeField(null=True, blank=True)
    issued_by = models.ForeignKey(
        "inventory.Person", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    snapshot = models.TextField(blank=True)
    snapshot_sha256 = models.CharField(max_length=64, blank=True)
    pdf = models.ForeignKey(
        "inventory.StoredFile", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    pdf_sha256 = models.CharField(max_length=64, blank=True)
    # The same claims as a signed credential for machines, canonical JSON like the snapshot.
    credential = models.TextField(blank=True)
    credential_sha256 = models.CharField(max_length=64, blank=True)
    # Whether a key that signed it is an evaluation key, which vouches for nobody.
    is_evaluation = models.BooleanField(default=False)

    # Set once, when superseded or withdrawn.
    ended_at = models.DateTimeField(null=True, blank=True)
    ended_by = models.ForeignKey(
        "inventory.Person", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    # Long enough for a correction's reason with the number of the paper that replaces this one.
    end_reason = models.CharField(max_length=400, blank=True)

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=(
                    Q(state="draft", number=None, issued_at=None, pdf=None, snapshot="")
                    & Q(credential="", credential_sha256="")
                    | Q(
                        state__in=FROZEN,
                        number__isnull=False,
                        issued_at__isnull=False,
                        issued_by__isnull=False,
                        pdf__isnull=False,
                        snapshot_sha256__length=64,
                        pdf_sha256__length=64,
                        credential_sha256__length=64,
                    )
                ),
                name="certificate_is_draft_or_whole",
            ),
            models.CheckConstraint(
                condition=Q(credential="", credential_sha256="")
                | (~Q(credential="") & Q(credential_sha256__length=64)),
                name="certificate_credential_has_its_hash",
            ),
            models.CheckConstraint(
                condition=(
                    Q(state__in=["draft", "issued"], ended_at=None, ended_by=None, end_reason="")
                    | (
                        Q(state__in=["superseded", "withdrawn"])
                        & Q(ended_at__isnull=False, ended_by__isnull=False)
                        & ~Q(end_reason="")
                    )
                ),
                name="certificate_end_has_a_reason",
            ),
            models.CheckConstraint(
                condition=Q(marked_kg=None) | Q(kind="assembly", marked_kg__gt=0),
                name="certificate_mark_is_of_an_assembly",
            ),
            models.CheckConstraint(
                condition=Q(language__in=[one.value for one in Language]),
                name="certificate_language_is_known",
            ),
            models.CheckConstraint(
                condition=(
                    Q(kind="cut_length", assembly=None, breaking_test=None)
                    | Q(kind="assembly", assembly__isnull=False, breaking_test=None)
                    | Q(kind="breaking", assembly=None, breaking_test__isnull=False)
                ),
                name="certificate_has_its_subject",
            ),
            models.CheckConstraint(
                condition=Q(replaces=None, replace_reason="")
                | (Q(replaces__isnull=False) & ~Q(replace_reason="")),
                name="certificate_correction_has_a_reason",
            ),
        ]
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["state", "-id"], name="certificate_by_state"),
        ]

    def __str__(self) -> str:
        return f"certificate {self.number or self.draft_code}"


class CertificatePiece(models.Model):
    """A cut piece that a certificate for cut lengths speaks of."""

    certificate = models.ForeignKey(
        Certificate, on_delete=models.PROTECT, related_name="piece_ties"
    )
    piece = models.ForeignKey(
        "inventory.CutPiece", on_delete=models.PROTECT, related_name="certificate_ties"
    )
    position = models.PositiveIntegerField()

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(
                fields=["certificate", "piece"], name="certificate_names_a_piece_once"
            ),
        ]

    def __str__(self) -> str:
        return f"piece {self.piece_id} on certificate {self.certificate_id}"


class CertificateProofTest(models.Model):
    """A proof-load test that an assembly's certificate rests on."""

    certificate = models.ForeignKey(
        Certificate, on_delete=models.PROTECT, related_name="proof_test_ties"
    )
    proof_test = models.ForeignKey(
        "certs.ProofTest", on_delete=models.PROTECT, related_name="certificate_ties"
    )

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(
                fields=["certificate", "proof_test"], name="certificate_rests_on_a_test_once"
            ),
        ]

    def __str__(self) -> str:
        return f"test {self.proof_test_id} under certificate {self.certificate_id}"
