"""Tells the head of a paper for its template: name, address, logo, accreditation."""

from collections.abc import Mapping
from typing import Any

from certs.documents.logo import logo_source


def paper_head(issuer: Mapping[str, Any], *, logo: bytes) -> dict[str, str]:
    """Give every part of a head, empty where there is none.

    Papers of earlier days hold no more than name and address.

    Args:
        issuer: as it is frozen with the paper.
        logo: the picture itself, PNG.
    """
    names = ("name", "address", "contact", "registration", "accreditation")
    return {name: issuer.get(name, "") for name in names} | {"logo": logo_source(logo)}
