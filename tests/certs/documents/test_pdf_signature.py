"""Papers sealed for long-term checking (PAdES B-LTA), judged by pyHanko's AdES engine.

The engine follows ETSI EN 319 102-1, 5.6.3; it is told which moment it is, and fetches nothing.
"""

import io
from datetime import UTC, datetime, timedelta

import pytest
from asn1crypto.crl import CertificateList
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.general import SigningError
from pyhanko.sign.validation import ades
from pyhanko.sign.validation.policy_decl import (
    LocalKnowledge,
    PdfSignatureValidationSpec,
    RevinfoOnlineFetchingRule,
    RevocationInfoGatheringSpec,
    SignatureValidationSpec,
)
from pyhanko_certvalidator.context import CertValidationPolicySpec
from pyhanko_certvalidator.ltv.types import ValidationTimingInfo
from pyhanko_certvalidator.policy_decl import (
    REQUIRE_REVINFO,
    CertRevTrustPolicy,
)
from pyhanko_certvalidator.registry import SimpleTrustManager
from pyhanko_certvalidator.revinfo.archival import CRLContainer

from certs.documents.pdf_check import PdfFault, check_pdf
from certs.documents.pdf_signature import Sealing, certificates_of, settled, sign_pdf
from certs.documents.pdf_stamp import last_stamp, renew_pdf
from tests.certs.documents.signing import (
    AT,
    HOUSE,
    STAMPER_LASTS,
    PaperHouse,
    StampHouse,
    plain_pdf,
)

# The engine reads the clock as well, so that all is judged today and papers are of earlier days.
TODAY = datetime.now(UTC).replace(microsecond=0)  # noqa: TID251 -- see above


def sealing(house, clock, at):
    return Sealing(
        timestamper=clock.stamper(at),
        trusted_pem=[house.root_pem, clock.root_pem],
        at=at,
        revocation_lists=[house.revocation_list(at), clock.revocation_list(at)],
    )


def sealed(house, clock, at):
    pdf, seal = plain_pdf(), sealing(house, clock, at)
    return sign_pdf(pdf, signer=house.signer, house=HOUSE, at=at, sealing=seal)


def renewed(content, house, clocks, at):
    """One more stamp, of the last clock; the paper also gets the lists of the one before it."""
    lists = [one.revocation_list(at) for one in (house, *clocks)]
    roots = [one.root_pem for one in (house, *clocks)]
    seal = Sealing(clocks[-1].stamper(at), trusted_pem=roots, at=at, revocation_lists=lists)
    return renew_pdf(content, sealing=seal)


def standing(content, *houses, is_told=True, ended=()):
    """What the AdES engine says of the paper today; data on revocation are required.

    It is told fresh lists of revoked certificates, or has none but those in the paper. The roots
    of clocks that ended are trusted, and no list is read of them: RFC 5280, 3.3, lets a list drop
    a certificate that has ended, so that it says nothing of it.
    """
    lists = [house.revocation_list(TODAY) for house in houses] if is_told else []
    houses = (*houses, *ended)
    policy = CertValidationPolicySpec(
        trust_manager=SimpleTrustManager.build(
            trust_roots=[one for house in houses for one in certificates_of(house.root_pem)]
        ),
        revinfo_policy=CertRevTrustPolicy(REQUIRE_REVINFO),
    )
    spec = SignatureValidationSpec(
        cert_validation_policy=policy,
        revinfo_gathering_policy=RevocationInfoGatheringSpec(
            online_fetching_rule=RevinfoOnlineFetchingRule.LOCAL_ONLY
        ),
        local_knowledge=LocalKnowledge(
            known_crls=[CRLContainer(CertificateList.load(der)) for der in lists]
        ),
    )
    signature = PdfFileReader(io.BytesIO(content)).embedded_regular_signatures[0]
    timing = ValidationTimingInfo(TODAY, TODAY, point_in_time_validation=False)
    work = ades.ades_lta_validation(signature, PdfSignatureValidationSpec(spec), timing_info=timing)
    return settled(work).ades_subindic.name


@pytest.mark.parametrize(
    ("days", "is_told", "said"),
    [
        pytest.param(20, False, "OK", id="20 days on"),
        pytest.param(700, False, "NO_POE", id="700 days on, its lists are stale"),
        pytest.param(700, True, "OK", id="700 days on, with fresh lists"),
        pytest.param(1400, True, "NO_POE", id="1400 days on, the stamp has ended"),
    ],
)
def test_a_sealed_paper_stands_until_its_stamp_ends(days, is_told, said):
    made = TODAY - timedelta(days=days)
    house, clock = PaperHouse(made), StampHouse(since=made)
    assert standing(sealed(house, clock, made), house, clock, is_told=is_told) == said


def test_a_renewed_paper_holds_the_paper_before():
    made, again = TODAY - timedelta(days=1010), TODAY - timedelta(days=10)
    house, clock = PaperHouse(made), StampHouse(since=made)
    other = StampHouse("Second Clock", since=again)
    paper = sealed(house, clock, made)
    lasting = renewed(paper, house, [clock, other], again)
    assert lasting.startswith(paper)
    assert standing(lasting, house, clock, other) == "OK"
    stampers = [clock.root_pem, other.root_pem]
    check = check_pdf(lasting, chains=house.chains, trusted_stampers=stampers)
    assert (check.fault, check.signed_at, check.stamped_at) == (None, made, again)


@pytest.mark.parametrize(
    ("renewals", "days", "said"),
    [
        pytest.param(0, 1090, "OK", id="before the first stamp ends"),
        pytest.param(0, 1100, "NO_POE", id="never renewed, the first stamp has ended"),
        pytest.param(1, 1100, "OK", id="renewed once, the first stamp has ended"),
        pytest.param(1, 2060, "OK", id="renewed once, just before the second stamp ends"),
        pytest.param(1, 2070, "NO_POE", id="renewed once, the second stamp has ended too"),
        pytest.param(2, 2070, "OK", id="renewed twice, two stamps have ended"),
        pytest.param(2, 3030, "OK", id="renewed twice, just before the third stamp ends"),
        pytest.param(2, 3040, "NO_POE", id="renewed twice, all stamps have ended"),
        pytest.param(3, 3040, "OK", id="renewed three times, three stamps have ended"),
    ],
)
def test_a_paper_stands_as_long_as_it_is_renewed_when_due(renewals, days, said):
    made = TODAY - timedelta(days=days)
    house, clocks = PaperHouse(made), [StampHouse(since=made)]
    paper = sealed(house, clocks[0], made)
    for _ in range(renewals):
        due = last_stamp(paper).due_at
        clocks.append(StampHouse(f"Clock {len(clocks) + 1}", since=due))
        paper = renewed(paper, house, clocks[-2:], due)
    assert standing(paper, house, clocks[-1], ended=clocks[:-1]) == said
    roots = [clock.root_pem for clock in clocks]
    assert check_pdf(paper, chains=house.chains, trusted_stampers=roots).is_valid


def test_a_paper_is_due_before_a_list_of_then_would_outlast_its_stamp():
    """A list is good for 35 days: from the end of the stamp count 35 and 90 days back."""
    clock = StampHouse(since=AT)
    stamp = last_stamp(sealed(PaperHouse(AT), clock, AT))
    assert stamp.ends_at == AT + STAMPER_LASTS
    assert stamp.due_at == AT + STAMPER_LASTS - timedelta(days=125)
    assert last_stamp(plain_pdf()) is None


def test_a_paper_renewed_too_late_does_not_stand():
    """The engine looks for the stamp's certificate at the end of its newest list: it ended."""
    made = TODAY - timedelta(days=1100)
    late = made + STAMPER_LASTS - timedelta(days=20)
    house, clock, other = PaperHouse(made), StampHouse(since=made), StampHouse("Next", since=late)
    paper = renewed(sealed(house, clock, made), house, [clock, other], late)
    assert standing(paper, house, other, ended=[clock]) == "NO_POE"


def test_two_stamps_under_one_root_are_beyond_this_engine():
    """A limit of pyHanko 0.38 and not of the paper: its own words are in ltv/ades_past.py.

    The list that vouches for the second stamp is of the root of the first as well. The engine
    takes the newest list of a root to speak of each of its certificates (ltv/time_slide.py), so
    that it looks for the first one now, in full, where EN 319 102-1, 5.6.2.1, looks at what the
    chain of that day allows.
    """
    made = TODAY - timedelta(days=1100)
    house, clock = PaperHouse(made), StampHouse(since=made)
    paper = sealed(house, clock, made)
    due = last_stamp(paper).due_at
    other = StampHouse("Second Clock", since=due, root=clock.root)
    lasting = renewed(paper, house, [clock, other], due)
    assert standing(lasting, house, other) == "NO_POE"
    stampers = [clock.root_pem]
    check = check_pdf(lasting, chains=house.chains, trusted_stampers=stampers)
    assert (check.fault, check.stamped_at) == (None, due)


def test_a_stamp_that_has_ended_is_not_renewed():
    late = AT + STAMPER_LASTS + timedelta(days=1)
    house, clock, other = PaperHouse(AT), StampHouse(since=AT), StampHouse("Next", since=late)
    with pytest.raises(SigningError, match="has ended"):
        renewed(sealed(house, clock, AT), house, [clock, other], late)


def test_a_stamp_of_a_root_that_is_no_longer_named_is_not_renewed(sealed_paper):
    house, _, paper = sealed_paper
    with pytest.raises(SigningError, match="TSA_ROOTS"):
        renewed(paper, house, [StampHouse("Next", since=AT)], AT)


def test_what_was_never_stamped_is_not_renewed():
    with pytest.raises(SigningError, match="no time stamp"):
        renewed(plain_pdf(), PaperHouse(AT), [StampHouse(since=AT)], AT)


def test_a_paper_without_a_stamp_does_not_stand_for_long():
    made = TODAY - timedelta(days=20)
    house = PaperHouse(made)
    paper = sign_pdf(plain_pdf(), signer=house.signer, house=HOUSE, at=made)
    assert standing(paper, house) != "OK"
    assert check_pdf(paper, chains=house.chains).is_valid


@pytest.fixture(scope="module")
def sealed_paper():
    house, clock = PaperHouse(AT), StampHouse(since=AT)
    return house, clock, sealed(house, clock, AT)


def test_the_stamp_covers_the_whole_file(sealed_paper):
    house, clock, paper = sealed_paper
    check = check_pdf(paper, chains=house.chains, trusted_stampers=[clock.root_pem])
    assert (check.fault, check.stamped_at) == (None, AT)


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(lambda paper: paper + b"% 20 kN\n", id="a comment behind the stamp"),
        pytest.param(lambda paper: paper[:-1000] + bytes(1000), id="the stamp overwritten"),
    ],
)
def test_a_change_behind_the_stamp_is_noticed(sealed_paper, change):
    house, clock, paper = sealed_paper
    check = check_pdf(change(paper), chains=house.chains, trusted_stampers=[clock.root_pem])
    assert not check.is_valid


def test_a_stamp_of_a_service_that_nobody_trusts_proves_nothing(sealed_paper):
    house, _, paper = sealed_paper
    assert check_pdf(paper, chains=house.chains).fault is PdfFault.ADDED
