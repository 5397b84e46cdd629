"""Decides how the signed files of a certificate are told of and handed out."""

import json
from collections.abc import Iterator

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from certs.models import Certificate
from certs.pages.handing_out import attached, kept
from certs.queries.claims import certificate_of
from certs.queries.renewals import last_renewal
from inventory.pages.acting import found, signed_in
from inventory.pages.facts import Fact
from inventory.pages.reading import day
from inventory.queries.signing_keys import keys_named

CREDENTIAL_TYPE = "application/vc+json"


@signed_in
def credential(_request: HttpRequest, number: str) -> HttpResponse:
    """The credential for machines, byte for byte as it was signed."""
    issued = found(certificate_of(number))
    text = found(issued.credential or None)
    name = f"{issued.number}.credential.json"
    return attached(text.encode(), name=name, media_type=CREDENTIAL_TYPE)


@signed_in
def renewed_paper(_request: HttpRequest, number: str) -> HttpResponse:
    """The paper with its last time stamp; the paper as issued stands beside it unchanged."""
    renewal = found(last_renewal(found(certificate_of(number))))
    return kept(renewal.file)


def facts_of_signature(shown: Certificate) -> Iterator[Fact]:
    """What signed it, whether that vouches for anybody, and whether a stamp was renewed."""
    if not shown.credential:
        return
    names = json.loads(shown.snapshot)["keys"]
    keys = {key.name: key for key in keys_named([names["paper"], names["credential"]])}
    mark = "an evaluation key, which vouches for nobody"
    for purpose, words in (
        ("paper", "Key of the PDF’s signature"),
        ("credential", "Key of the credential"),
    ):
        key = keys[names[purpose]]
        algorithm = "PAdES, ECDSA P-256" if purpose == "paper" else "eddsa-jcs-2022"
        notes = [algorithm, *([mark] if key.is_evaluation else [])]
        if key.revoked_at is not None:
            notes.append(f"revoked on {day(key.revoked_at)}: {key.revoke_reason}")
        yield Fact(words, key.name, note="; ".join(notes))
    yield Fact("SHA-256 of the credential", shown.credential_sha256)
    renewal = last_renewal(shown)
    if renewal is not None:
        yield Fact(
            "Time stamp renewed",
            day(renewal.made_at),
            href=reverse("certs:renewed_paper", args=[shown.number]),
            note=f"good until {day(renewal.good_until)}",
        )
