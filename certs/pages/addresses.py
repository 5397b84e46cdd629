"""Decides where the page of a thing is, by the code that stands on it."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from django.urls import reverse

_PAGES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "H": "inventory:heat",
        "D": "inventory:document",
        "R": "inventory:reel",
        "P": "inventory:piece",
        "O": "inventory:order",
        "F": "inventory:fitting",
        "A": "inventory:assembly",
        "V": "inventory:delivery",
        "X": "inventory:hold",
        "T": "inventory:machine",
        "RC": "certs:receiving_check",
        "BT": "certs:breaking_test",
        "PT": "certs:proof_test",
        "WT": "certs:wire_test",
        "CD": "certs:certificate",
        "SR": "certs:site_report",
        "RN": "certs:recall_notice",
        "IB": "certs:issue_batch",
        # The series of issued certificates.
        "CL": "certs:certificate",
        "AT": "certs:certificate",
        "BR": "certs:certificate",
    }
)


def page_of(code: str) -> str:
    """Give the address of the page of a thing; empty where its code is of no kind known here."""
    name = _PAGES.get(code.partition("-")[0])
    return reverse(name, args=[code]) if name else ""


def story_of(code: str) -> str:
    """Give the address of the story of a thing: where it came from and where it went."""
    return f"{reverse('certs:trace')}?code={code}"
