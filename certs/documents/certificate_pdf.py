"""Prints a certificate from its frozen snapshot, and from nothing else.

The snapshot's canonical text travels inside the PDF, so that paper and data cannot part. A site
copy is the same paper with the purchaser's name withheld, for whoever scans a tag.
"""

import hashlib
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from django.template.loader import render_to_string

from certs.documents.decision_told import tell_decision
from certs.documents.derivation_list import DerivationList
from certs.documents.paper import Enclosure, print_paper
from certs.documents.paper_code import check_address, code_drawn
from certs.documents.paper_drawings import force_curves, reel_maps
from certs.documents.paper_ends import alike_ends
from certs.documents.paper_head import paper_head
from certs.documents.paper_words import speaking
from certs.documents.piece_groups import piece_groups
from certs.rules.field_codes import FOOTNOTE
from inventory.rules.tag_code import grouped

Snapshot = Mapping[str, Any]
"""A certificate's snapshot as parsed JSON; its shape is made by `certs.queries.snapshot`."""


def certificate_pdf(
    snapshot: Snapshot, *, canonical: str, credential: str = "", logo: bytes = b""
) -> bytes:
    """Print the certificate as it is signed and issued, with its data enclosed.

    Args:
        snapshot: the facts to print.
        canonical: their RFC 8785 text.
        credential: the signed credential, canonical too.
        logo: the picture that the snapshot names by its hash. The same texts and the same picture
            give the same bytes.
    """
    enclosures = [
        Enclosure(
            name="certificate.json",
            content=canonical.encode(),
            description="The data of this certificate, in canonical JSON (RFC 8785)",
        )
    ]
    if credential:
        enclosures.append(
            Enclosure(
                name="credential.json",
                content=credential.encode(),
                description="What it certifies, signed for machines (eddsa-jcs-2022)",
            )
        )
    return print_paper(
        certificate_html(snapshot, is_site_copy=False, logo=logo),
        identifier=hashlib.sha256(canonical.encode()).digest()[:16],
        made_at=datetime.fromisoformat(snapshot["issued_at"]),
        enclosures=enclosures,
    )


def site_copy_pdf(snapshot: Snapshot, *, pdf_sha256: str, logo: bytes = b"") -> bytes:
    """Print the copy that a tag leads to: the purchaser's name is withheld, no data enclosed."""
    withheld = {**snapshot, "customer": None, "issued_pdf_sha256": pdf_sha256}
    return print_paper(
        certificate_html(withheld, is_site_copy=True, logo=logo),
        identifier=site_copy_identifier(pdf_sha256),
        made_at=datetime.fromisoformat(snapshot["issued_at"]),
    )


def site_copy_identifier(pdf_sha256: str) -> bytes:
    """Name the site copy of a paper inside the PDF: whoever has not seen it cannot tell."""
    return hashlib.sha256(f"site copy {pdf_sha256}".encode()).digest()[:16]


def certificate_html(snapshot: Snapshot, *, is_site_copy: bool, logo: bytes = b"") -> str:
    """Lay out the certificate as one HTML document for `paper.print_paper`."""
    # Papers of earlier days name no language.
    with speaking(snapshot.get("language", "")) as lang:
        return render_to_string(
            "certs/paper/certificate.html",
            {
                **_told(snapshot),
                **_framed(snapshot, logo=logo),
                "is_site_copy": is_site_copy,
                "lang": lang,
            },
        )


def _framed(snapshot: Snapshot, *, logo: bytes) -> dict[str, Any]:
    """Tell what frames the facts: head, code, keys, and how the paper is checked."""
    tag = snapshot["tag"]
    # Papers of earlier days name no keys; in a template the name would be that of a method.
    keys = snapshot.get("keys")
    return {
        "paper": snapshot,
        "head": paper_head(snapshot["issuer"], logo=logo),
        "keys": keys,
        "check_address": check_address(tag["address"]),
        "is_evaluation": bool(keys and keys["is_evaluation"]),
        "caution_columns": _columns(snapshot["cautions"]),
        "issued_at": datetime.fromisoformat(snapshot["issued_at"]),
        "qr": code_drawn(tag["address"], title=f"Code of certificate {snapshot['number']}"),
        "tag_code": grouped(tag["code"]),
        "codes_footnote": FOOTNOTE,
    }


def _told(snapshot: Snapshot) -> dict[str, Any]:
    """Tell the facts, each derivation once and by its number."""
    derivations = DerivationList()
    ropes = [_derived_in(rope, rope["force"], derivations) for rope in snapshot["ropes"]]
    ropes = [_wires_derived_in(rope, derivations) for rope in ropes]
    assembly = snapshot["assembly"]
    if assembly:
        ratings = [_derived_in(r, r["derivation"], derivations) for r in assembly["ratings"]]
        assembly = {
            **assembly,
            "ratings": ratings,
            "is_provisional": any(rating.get("is_provisional") for rating in ratings),
            "alike_ends": alike_ends(assembly["ends"]),
        }
    proofs = [_bounds_derived_in(_decided(test), derivations) for test in snapshot["proof_tests"]]
    breaks = [
        _decided(_loading_derived_in(test, derivations)) for test in snapshot["breaking_tests"]
    ]
    return {
        "proof_tests": proofs,
        "breaking_tests": breaks,
        "groups": piece_groups(snapshot["pieces"]),
        "ropes": ropes,
        # Papers of earlier days hold no receiving checks.
        "receiving": snapshot.get("receiving", []),
        "assembly": assembly,
        "derivations": derivations,
        "maps": reel_maps(snapshot),
        "curves": force_curves(snapshot),
    }


def _columns(lines: Sequence[str]) -> tuple[Sequence[str], Sequence[str]]:
    """Part lines into two columns of about equal length: CSS columns cost a third of the page."""
    half, total = 0, 0
    goal = sum(map(len, lines)) / 2
    while half < len(lines) and total + len(lines[half]) / 2 < goal:
        total += len(lines[half])
        half += 1
    return lines[:half], lines[half:]


def _derived_in(
    facts: Mapping[str, Any], derivation: Mapping[str, Any], listed: DerivationList
) -> dict[str, Any]:
    """Put the number of its derivation beside a stated value."""
    return {**facts, "derivation_number": listed.add(derivation)}


def _wires_derived_in(rope: Mapping[str, Any], listed: DerivationList) -> dict[str, Any]:
    """Put the numbers of their derivations beside wire tests; papers of earlier days hold none."""
    told = rope.get("wire_tests")
    if not told:
        return {**rope, "wire_tests": None}
    tests = [
        {**test, "numbers": [listed.add(one) for one in test["derivations"]]}
        for test in told["tests"]
    ]
    return {**rope, "wire_tests": {**told, "tests": tests}}


def _loading_derived_in(test: Mapping[str, Any], listed: DerivationList) -> dict[str, Any]:
    """Put the numbers of their derivations beside the rates; papers of earlier days hold none."""
    loading = test.get("loading")
    if not loading:
        return {**test, "loading": None, "retest_of": test.get("retest_of", "")}
    rates = {
        name: loading[name] and {**loading[name], "number": listed.add(loading[name])}
        for name in ("fast", "mean", "greatest")
    }
    return {**test, "loading": {**loading, **rates}}


def _bounds_derived_in(test: Mapping[str, Any], listed: DerivationList) -> dict[str, Any]:
    """Put the numbers of their derivations beside a proof load; earlier papers hold none."""
    shown, extension = test.get("to_show"), test.get("extension")
    return {
        **test,
        "to_show": shown
        and {**shown, "numbers": [listed.add(one) for one in shown["derivations"]]},
        "extension": extension and {**extension, "number": listed.add(extension["derivation"])},
    }


def _decided(test: Mapping[str, Any]) -> dict[str, Any]:
    """Put the words of its decision beside a test; papers of earlier days hold none."""
    told = tell_decision(decision=test.get("decision", {}), uncertainty=test.get("uncertainty", {}))
    return {**test, "decision_told": told}
