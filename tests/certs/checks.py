"""Invented receiving checks for tests, made through the service."""

from decimal import Decimal
from typing import Any

from certs.models import ReceivingCheck
from certs.queries.receiving import Measured
from certs.rules.measured_diameter import Readings
from certs.services.check_reel import check_reel
from inventory.models import Reel
from inventory.rules.roles import Role
from tests.factories import MOMENT, given_person

EN = "EN 12385-4"
NM = 10**6


def readings(*in_mm: str) -> Readings:
    """Four readings in mm; one alone stands for all four."""
    four = in_mm * 4 if len(in_mm) == 1 else in_mm
    return Readings(*(int(Decimal(one) * NM) for one in four))


def given_check(reel: Reel, **measured) -> ReceivingCheck:
    """A check of a reel by whoever keeps the stores; nothing is measured unless it is said."""
    return check_reel(
        reel=reel, measured=Measured(**measured), by=given_person(Role.STORES), at=MOMENT
    )


def given_good_check(reel: Reel) -> ReceivingCheck:
    """A check in which the rope measures two per cent more than its nominal diameter."""
    size_mm = Decimal(reel.diameter_nm) / NM * Decimal("1.02")
    return given_check(reel, standard=EN, readings=readings(f"{size_mm}"))


def given_bad_check(reel: Reel) -> ReceivingCheck:
    """A check in which the rope is too thin."""
    size_mm = Decimal(reel.diameter_nm) / NM * Decimal("0.97")
    return given_check(reel, standard=EN, readings=readings(f"{size_mm}"))


def finding(check: ReceivingCheck, topic: str) -> dict[str, Any]:
    """The one finding of a check on a topic."""
    (found,) = (one for one in check.findings if one["topic"] == topic)
    return found
