"""Composes the credential of a certificate: what the paper says, for a machine to read.

It is made from the frozen snapshot and from nothing else, and binds the whole of it by its hash,
so that what the credential leaves out is signed as well. The shape is that of the W3C's Verifiable
Credentials Data Model v2.0; values are text with a UCUM unit, so that no reader rounds them.
"""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from certs.rules.ucum import UCUM

Facts = Mapping[str, Any]

# The second context says of every term that W3C does not define that this issuer defines it.
CONTEXTS: Final = (
    "https://www.w3.org/ns/credentials/v2",
    "https://www.w3.org/ns/credentials/undefined-terms/v2",
)


def unsigned_credential(snapshot: Facts, *, snapshot_sha256: str, issuer: str) -> dict[str, Any]:
    """Compose the credential, without its proof.

    Args:
        snapshot: the facts of a certificate as `certs.queries.snapshot` makes them.
        snapshot_sha256: of the snapshot's canonical text, hexadecimal.
        issuer: the did:web identifier of the house.
    """
    address = snapshot["tag"]["address"]
    return {
        "@context": list(CONTEXTS),
        "type": ["VerifiableCredential", "WireRopeCertificate"],
        "id": address,
        "issuer": issuer,
        "validFrom": snapshot["issued_at"].replace("+00:00", "Z"),
        "name": f"{snapshot['title']} {snapshot['number']}",
        "credentialSubject": {
            "certificate": {
                "number": snapshot["number"],
                "documentKind": snapshot["document_kind"],
                "documentKindText": snapshot["document_kind_text"],
                "replaces": (snapshot["replaces"] or {}).get("number", ""),
            },
            "items": [*_assembly(snapshot), *map(_piece, snapshot["pieces"])],
            "results": list(_results(snapshot)),
            "record": {"format": snapshot["format"], "sha256": snapshot_sha256},
            "cautions": list(snapshot["cautions"]),
            "standing": {
                "address": address,
                "note": "Whether it is still in force is told there and not in this file.",
            },
        },
    }


def _assembly(snapshot: Facts) -> Iterator[dict[str, Any]]:
    assembly = snapshot["assembly"]
    if assembly is not None:
        yield {"code": assembly["code"], "description": assembly["kind_text"]}


def _piece(piece: Facts) -> dict[str, Any]:
    return {
        "code": piece["code"],
        "designation": piece["designation"],
        "length": _value(piece["length_mm"], "mm"),
        "cutFrom": {
            "reel": piece["reel"],
            "from": _value(piece["from_mm"], "mm"),
            "to": _value(piece["to_mm"], "mm"),
        },
        "heats": [heat["number"] for heat in piece["heats"]],
        "millDocuments": [
            {"number": paper["number"], "kind": paper["kind"], "sha256": paper["sha256"]}
            for paper in piece["mill_documents"]
        ],
    }


def _results(snapshot: Facts) -> Iterator[dict[str, Any]]:
    for rope in snapshot["ropes"]:
        yield _derived(rope["force"], about=rope["reel"])
    assembly = snapshot["assembly"]
    if assembly is not None:
        for rating in assembly["ratings"]:
            yield _derived(rating["derivation"], about=assembly["code"]) | {
                "value": rating["stated"],
                "unit": UCUM[rating["unit"]],
                "condition": rating["words"],
            }
    for test in snapshot["proof_tests"]:
        yield _tested(test, quantity="proof load reached")
    for test in snapshot["breaking_tests"]:
        yield _tested(test, quantity="breaking force measured")


def _derived(derivation: Facts, *, about: str) -> dict[str, Any]:
    return {
        "about": about,
        "quantity": derivation["quantity"],
        "value": derivation["stated"],
        "unit": UCUM[derivation["unit"]],
        "basis": derivation["basis"],
        "isProvisional": derivation["is_provisional"],
    }


def _tested(test: Facts, *, quantity: str) -> dict[str, Any]:
    return {
        "about": test["code"],
        "quantity": quantity,
        **_value(test["peak_n"], "N"),
        "required": _value(test["required_n"], "N"),
        "outcome": test["outcome_text"],
        "log": (test["log"] or {}).get("sha256", ""),
    }


def _value(number: int | None, unit: str) -> dict[str, str]:
    return {"value": "" if number is None else str(number), "unit": UCUM[unit]}
