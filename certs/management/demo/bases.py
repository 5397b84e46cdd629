"""Names what the breaking force of each invented reel is certified on, and one agreed figure."""

from collections.abc import Iterable

from certs.management.demo.invented import rows_of
from certs.management.demo.stage import Stage
from certs.models import AgreedSpecification, StrengthBasis
from certs.queries.suggestions import Suggestion, suggested_bases
from certs.services.specify import add_agreed_specification, name_basis
from inventory.models import Reel

KINDS = StrengthBasis.Kind
REASONS = {
    KINDS.FACTOR: "Ordered to EN 12385-4; the factor of this class and core.",
    KINDS.TABLE: "Ordered to API Spec 9A; its printed value.",
    KINDS.DECLARED: "The mill declares the force in its document.",
    KINDS.AGREED: "Agreed with the customer for the small stainless ropes.",
}


def name_bases(stage: Stage, *, wave: int) -> None:
    """Name the basis of every reel of a load for which the table gives one."""
    for row in rows_of("reels"):
        if row["wave"] == str(wave) and row["basis"] != "none":
            _name(stage, stage.reels[row["number"]], KINDS(row["basis"]))


def _name(stage: Stage, reel: Reel, kind: StrengthBasis.Kind) -> None:
    found = suggested_bases(reel.designation)
    chosen = _one_of(found, kind) if kind in {KINDS.FACTOR, KINDS.TABLE} else None
    name_basis(
        reel=reel,
        kind=kind,
        factor=chosen.factor if chosen else None,
        tabulated=chosen.tabulated if chosen else None,
        agreed=_agree(stage, reel) if kind == KINDS.AGREED else None,
        reason=REASONS[kind],
        by=stage.people["qa"],
        at=stage.calendar.moment(),
    )


def _one_of(found: Iterable[Suggestion], kind: StrengthBasis.Kind) -> Suggestion:
    """Take the first of the kind; of tables, that of the standard ordered."""
    return next(
        one
        for one in found
        if one.kind == kind
        and (one.tabulated is None or one.tabulated.standard.startswith("API Spec 9A"))
    )


def _agree(stage: Stage, reel: Reel) -> AgreedSpecification:
    """Enter the lower factor that many price lists of small stainless ropes use, K 0.359."""
    return add_agreed_specification(
        name="Small stainless ropes, agreed values (invented)",
        edition="2026",
        agreed_with=stage.parties["dunvarra"],
        paper="Letter of 2026-06-02 (invented)",
        designation=reel.designation,
        factor_k="0.359",
        # Invented, as is the letter.
        mass_minus_pct="5",
        mass_plus_pct="5",
        by=stage.people["qa"],
        at=stage.calendar.moment(),
    )
