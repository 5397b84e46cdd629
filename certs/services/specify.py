"""Adds agreed specifications, and names the basis on which a reel's strength is certified.

Neither is ever changed: a new basis takes the place of the old one, which stays on record with
its reason.
"""

from collections.abc import Mapping
from datetime import datetime

from django.db import transaction

from certs.models import AgreedSpecification, ForceFactor, StrengthBasis, TabulatedForce
from certs.queries.derivation import force_on_basis
from certs.queries.specification_rows import agreed_of
from certs.rules.agreed_basis import agreed_force, check_agreed
from certs.rules.breaking_force import whole_newtons
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from inventory.models import Party, Person, Reel
from inventory.rules.as_given import NOTHING_GIVEN, kept_as_given
from inventory.rules.canonical import JsonValue
from inventory.rules.designation import parse_designation
from inventory.rules.refusal import Refusal
from inventory.services import journal
from inventory.services.guarded import add_row
from inventory.services.locks import lock_row


class CannotSpecify(Refusal):
    """An agreed specification cannot be entered, or a basis not be named."""


def add_agreed_specification(
    *,
    name: str,
    edition: str,
    agreed_with: Party,
    paper: str,
    designation: str,
    factor_k: str = "",
    force_n: int | None = None,
    factor_w: str = "",
    diameter_minus_pct: str = "",
    diameter_plus_pct: str = "",
    mass_minus_pct: str = "",
    mass_plus_pct: str = "",
    as_given: Mapping[str, str] = NOTHING_GIVEN,
    by: Person,
    at: datetime,
) -> AgreedSpecification:
    """Enter what two parties agreed on for one rope: a factor K or a force in N, and what they add.

    Raises DesignationError, NoBasis for figures that cannot be, and CannotSpecify for a name that
    is taken or a field that is empty.
    """
    require(by=by, act=ClaimAct.ADD_SPECIFICATION)
    rope = parse_designation(designation)
    row = AgreedSpecification(
        name=name.strip(),
        edition=edition.strip(),
        agreed_with=agreed_with,
        paper=paper.strip(),
        designation=rope.text,
        factor_k=factor_k.strip(),
        force_n=force_n,
        factor_w=factor_w.strip(),
        diameter_minus_pct=diameter_minus_pct.strip(),
        diameter_plus_pct=diameter_plus_pct.strip(),
        mass_minus_pct=mass_minus_pct.strip(),
        mass_plus_pct=mass_plus_pct.strip(),
        as_given=kept_as_given(as_given, {"force_n": force_n}),
        entered_at=at,
        entered_by=by,
    )
    check_agreed(agreed_of(row))
    force = agreed_force(rope, agreed_of(row))
    with transaction.atomic():
        add_row(row, refusal=CannotSpecify)
        journal.append(
            at=at,
            by=by,
            act=ClaimAct.ADD_SPECIFICATION.value,
            subject=agreed_with.code,
            detail={
                **_agreed_detail(row),
                "designation": rope.text,
                "factor_k": row.factor_k,
                "force_n": whole_newtons(force),
                "factor_w": row.factor_w,
                "diameter_minus_pct": row.diameter_minus_pct,
                "diameter_plus_pct": row.diameter_plus_pct,
                "mass_minus_pct": row.mass_minus_pct,
                "mass_plus_pct": row.mass_plus_pct,
            },
            rows=[row],
        )
    return row


def name_basis(
    *,
    reel: Reel,
    kind: str,
    factor: ForceFactor | None = None,
    tabulated: TabulatedForce | None = None,
    agreed: AgreedSpecification | None = None,
    reason: str,
    by: Person,
    at: datetime,
) -> StrengthBasis:
    """Name what a reel's breaking force is certified on: from now on this one stands.

    Raises CannotSpecify without a reason, or where kind and row do not go together; NoBasis where
    the row speaks of another rope, or the maker declared nothing.
    """
    require(by=by, act=ClaimAct.NAME_BASIS)
    if not reason.strip():
        message = "Say why this basis is the right one for the reel."
        raise CannotSpecify(message, field="reason")
    _check_kind(kind, {"factor": factor, "table": tabulated, "agreed": agreed})
    with transaction.atomic():
        locked = lock_row(reel)
        basis = StrengthBasis(
            reel=locked,
            kind=kind,
            factor=factor,
            tabulated=tabulated,
            agreed=agreed,
            reason=reason.strip(),
            named_at=at,
            named_by=by,
        )
        force = force_on_basis(locked, basis)
        add_row(basis, refusal=CannotSpecify)
        journal.append(
            at=at,
            by=by,
            act=ClaimAct.NAME_BASIS.value,
            subject=locked.code,
            detail={"kind": kind, "force_n": whole_newtons(force), **_basis_detail(basis)},
            # The row of a table is bound with the basis: from now on it stays as it is.
            rows=[basis, *(row for row in (factor, tabulated) if row)],
        )
    return basis


def _check_kind(kind: str, rows: dict[str, object]) -> None:
    if kind not in StrengthBasis.Kind.values:
        message = f"“{kind}” is no kind of basis; it is one of {', '.join(StrengthBasis.Kind)}."
        raise CannotSpecify(message, field="kind")
    given = [name for name, row in rows.items() if row is not None]
    if given != ([] if kind == StrengthBasis.Kind.DECLARED else [kind]):
        message = "Choose the one row that belongs to this kind of basis, and no other."
        raise CannotSpecify(message, field="kind")


def _basis_detail(basis: StrengthBasis) -> dict[str, JsonValue]:
    if basis.factor:
        row = basis.factor
        return {"rope_class": row.rope_class, "rope_core": row.rope_core, "factor_k": row.factor_k}
    if basis.tabulated:
        table = basis.tabulated
        return {
            "standard": table.standard,
            "edition": table.edition,
            "table": table.table,
            "row": f"{table.diameter} {table.diameter_unit} {table.grade}",
        }
    return _agreed_detail(basis.agreed) if basis.agreed else {}


def _agreed_detail(row: AgreedSpecification) -> dict[str, JsonValue]:
    # What a person called it may name a firm; the journal keeps no names.
    return {"name_sha256": journal.text_hash(row.name), "edition": row.edition}
