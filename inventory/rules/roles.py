"""Who may do what to the physical record: one table, and the function that consults it.

Acts upon claims (tests, certificates, tags) have a table of their own beside the claims.
"""

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import Final


class Role(StrEnum):
    """What a person is to this record; a person has exactly one role."""

    STORES = "stores"
    TEST_BENCH = "test_bench"
    QA_OFFICER = "qa_officer"
    INSPECTION_REPRESENTATIVE = "inspection_representative"
    AUDITOR = "auditor"
    ADMINISTRATOR = "administrator"

    @property
    def words(self) -> str:
        """Give the role as it is spoken of on pages and paper."""
        return "QA officer" if self is Role.QA_OFFICER else self.value.replace("_", " ")


class Act(StrEnum):
    """Everything that can be done to the record of what exists."""

    READ_RECORD = "read_record"
    REGISTER_PARTY = "register_party"
    CHANGE_PARTY = "change_party"
    RECORD_HEAT = "record_heat"
    FILE_MILL_DOCUMENT = "file_mill_document"
    RECEIVE_REEL = "receive_reel"
    MOVE_REEL = "move_reel"
    CUT_PIECE = "cut_piece"
    REVERSE_CUT = "reverse_cut"
    REWIND_REEL = "rewind_reel"
    TAKE_BACK_PIECE = "take_back_piece"
    PLACE_ORDER = "place_order"
    RECEIVE_FITTINGS = "receive_fittings"
    BUILD_ASSEMBLY = "build_assembly"
    RECORD_DELIVERY = "record_delivery"
    PLACE_HOLD = "place_hold"
    RELEASE_HOLD = "release_hold"
    REGISTER_MACHINE = "register_machine"
    RECORD_CALIBRATION = "record_calibration"
    MANAGE_PEOPLE = "manage_people"
    MANAGE_KEYS = "manage_keys"


_STOREKEEPING: Final = frozenset({Role.STORES, Role.QA_OFFICER})
_EVERYONE: Final = frozenset(Role)

# Whoever keeps the accounts must not be able to alter the rope's own record, nor an auditor
# alter anything at all; a hold is placed by whoever sees the danger, but released by one role.
ALLOWED: Final[Mapping[Act, frozenset[Role]]] = MappingProxyType(
    {
        Act.READ_RECORD: _EVERYONE,
        Act.REGISTER_PARTY: frozenset({Role.QA_OFFICER, Role.ADMINISTRATOR}),
        Act.CHANGE_PARTY: frozenset({Role.QA_OFFICER, Role.ADMINISTRATOR}),
        Act.RECORD_HEAT: _STOREKEEPING,
        Act.FILE_MILL_DOCUMENT: _STOREKEEPING,
        Act.RECEIVE_REEL: _STOREKEEPING,
        Act.MOVE_REEL: _STOREKEEPING,
        Act.CUT_PIECE: _STOREKEEPING,
        Act.REVERSE_CUT: frozenset({Role.QA_OFFICER}),
        Act.REWIND_REEL: _STOREKEEPING,
        Act.TAKE_BACK_PIECE: _STOREKEEPING,
        Act.PLACE_ORDER: _STOREKEEPING,
        Act.RECEIVE_FITTINGS: _STOREKEEPING,
        Act.BUILD_ASSEMBLY: _STOREKEEPING | {Role.TEST_BENCH},
        Act.RECORD_DELIVERY: _STOREKEEPING,
        Act.PLACE_HOLD: frozenset(
            {Role.STORES, Role.TEST_BENCH, Role.QA_OFFICER, Role.INSPECTION_REPRESENTATIVE}
        ),
        Act.RELEASE_HOLD: frozenset({Role.QA_OFFICER}),
        Act.REGISTER_MACHINE: frozenset({Role.QA_OFFICER, Role.ADMINISTRATOR}),
        Act.RECORD_CALIBRATION: frozenset({Role.TEST_BENCH, Role.QA_OFFICER}),
        Act.MANAGE_PEOPLE: frozenset({Role.ADMINISTRATOR}),
        Act.MANAGE_KEYS: frozenset({Role.ADMINISTRATOR}),
    }
)


def may(role: Role, act: Act) -> bool:
    """Tell whether a person of this role may do this act."""
    return role in ALLOWED[act]
