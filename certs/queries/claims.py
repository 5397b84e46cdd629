"""One claim by its code, with what its page tells of it loaded; None if there is none."""

from certs.models import BreakingTest, Certificate, ProofTest, Representative, Tag


def breaking_test_of(code: str) -> BreakingTest | None:
    """Return a breaking-force test with its sample, machine and log."""
    tests = BreakingTest.objects.select_related(
        "sample__reel",
        "machine",
        "calibration",
        "tested_by",
        "log",
        "reversal__reversed_by",
        "decision_rule",
        "retest_of",
        "retest",
    )
    return tests.filter(code=code).first()


def proof_test_of(code: str) -> ProofTest | None:
    """Return a proof-load test with its assembly, machine and log."""
    tests = ProofTest.objects.select_related(
        "assembly",
        "machine",
        "calibration",
        "tested_by",
        "log",
        "reversal__reversed_by",
        "decision_rule",
    )
    return tests.filter(code=code).first()


def certificate_of(code: str) -> Certificate | None:
    """Return a certificate by its number or, while it is a draft, by its draft code."""
    found = Certificate.objects.select_related(
        "customer",
        "assembly__order_line",
        "breaking_test__sample",
        "breaking_test__machine",
        "replaces",
        "replaced_by",
        "first_validator__person",
        "second_validator__person",
        "drafted_by",
        "issued_by",
        "ended_by",
        "pdf",
    )
    asked = code.strip().upper()
    return found.filter(number=asked).first() or found.filter(draft_code=asked).first()


def tag_of_certificate(certificate: Certificate) -> Tag | None:
    """Return the code that an issued certificate carries."""
    return Tag.objects.filter(certificate=certificate).first()


def tag_of(code: str) -> Tag | None:
    """Return a tag by its code, folded already, with what it names."""
    tags = Tag.objects.select_related("piece__reel", "assembly", "certificate")
    return tags.filter(code=code).first()


def representative_of(pk: int) -> Representative | None:
    """Return an entry of the register."""
    return Representative.objects.select_related("person").filter(pk=pk).first()
