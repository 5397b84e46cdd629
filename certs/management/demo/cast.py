"""The people and firms of the demonstration: one login for each role, none of them real."""

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType
from typing import Final

from certs.management.demo.invented import rows_of
from certs.management.demo.stage import Stage
from certs.models import Representative
from certs.services.representatives import register_representative
from inventory.rules.roles import Role
from inventory.services.keyring import ensure_keys
from inventory.services.parties import register_party
from inventory.services.people import register_person

LOGINS: Final[Mapping[str, tuple[str, Role]]] = MappingProxyType(
    {
        "admin": ("Pia Marlock", Role.ADMINISTRATOR),
        "stores": ("Nell Harbin", Role.STORES),
        "bench": ("Tom Vysek", Role.TEST_BENCH),
        "qa": ("Ada Quillan", Role.QA_OFFICER),
        "inspector": ("Rolf Imbert", Role.INSPECTION_REPRESENTATIVE),
        "auditor": ("Una Dresk", Role.AUDITOR),
    }
)


def hire(stage: Stage, *, password: str) -> None:
    """Register one person for each role, the administrator first."""
    for username, (full_name, role) in LOGINS.items():
        stage.people[username] = register_person(
            username=username,
            full_name=full_name,
            role=role,
            password=password,
            by=stage.people.get("admin"),
            at=stage.calendar.moment(),
        )


def make_keys(stage: Stage) -> None:
    """Make the keys that papers are signed with: for evaluation, and every paper says so."""
    ensure_keys(by=stage.people["admin"], at=stage.calendar.moment())


def register_firms(stage: Stage) -> None:
    """Register mills, makers of fittings and customers."""
    for row in rows_of("parties"):
        stage.parties[row["key"]] = register_party(
            kind=row["kind"],
            name=row["name"],
            address=row["address"],
            by=stage.people["admin"],
            at=stage.calendar.moment(),
        )


def appoint_representatives(stage: Stage) -> None:
    """Put two inspectors on the register: the house's own, and one sent by a purchaser.

    The purchaser's has no login here; he signs what he saw.
    """
    stage.people["visitor"] = register_person(
        username="visitor",
        full_name="Jon Tallow",
        role=Role.INSPECTION_REPRESENTATIVE,
        password=None,
        by=stage.people["admin"],
        at=stage.calendar.moment(),
    )
    for username, capacity, organisation in (
        ("inspector", Representative.Capacity.MANUFACTURER, "Demonstration stockist (invented)"),
        ("visitor", Representative.Capacity.PURCHASER, stage.parties["sundelow"].name),
    ):
        stage.representatives[username] = register_representative(
            person=stage.people[username],
            capacity=capacity,
            organisation=organisation,
            is_independent=True,
            valid_from_date=date(2026, 1, 1),
            by=stage.people["admin"],
            at=stage.calendar.moment(),
        )
