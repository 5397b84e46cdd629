"""Decides how ends, loads, marks, build and proof rules of an assembly stand on its page."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from certs.pages.addresses import page_of
from certs.queries.proof_asked import RegimeAsked
from certs.queries.rating_words import difference_text
from certs.queries.strength import AssemblyStrength
from certs.rules.confidence import in_words
from certs.rules.derived import plain
from certs.rules.finding import Finding, Verdict
from certs.rules.marked_load import MarkCheck
from certs.rules.sling_legs import AngleConvention
from certs.rules.us_rating import pounds_of
from inventory.pages.table import Cell, Column, Line, Table, build_table

SHAPES = {Verdict.AGREE: "good", Verdict.DISAGREE: "stop", Verdict.CANNOT_SAY: "open"}


@dataclass(frozen=True, slots=True)
class ShownFinding:
    """One finding in the words of `templates/parts/_findings.html`."""

    title: str
    word: str
    shape: str
    text: str
    limit: str
    source: str
    href: str = ""


def shown_findings(findings: Iterable[Finding]) -> list[ShownFinding]:
    """Tell how it was built, what does not agree first."""
    order = [Verdict.DISAGREE, Verdict.CANNOT_SAY, Verdict.AGREE]
    return [
        ShownFinding(
            title=one.topic,
            word=one.verdict.words,
            shape=SHAPES[one.verdict],
            text=" ".join((one.text, *one.warnings)),
            limit=one.rule,
            source=one.source.text,
        )
        for one in sorted(findings, key=lambda one: order.index(one.verdict))
    ]


def table_of_ends(strength: AssemblyStrength) -> Table:
    """Tell what part of the rope's force each end keeps."""
    return build_table(
        columns=(
            "Piece",
            "Rope",
            Column("Force of the rope", is_number=True),
            "End",
            Column("KT", is_number=True),
            "Printed as",
            "Source",
        ),
        lines=(
            Line(
                (
                    Cell(piece.piece.code, href=page_of(piece.piece.code)),
                    piece.rope.text,
                    piece.certified.text,
                    f"{end.place}: {end.name}",
                    plain(end.kt),
                    end.printed,
                    end.source.text,
                )
            )
            for piece in strength.pieces
            for end in piece.ends
        ),
        folds=True,
    )


def table_of_loads(strength: AssemblyStrength) -> Table:
    """Tell formula, printed value, their difference, and what governs, with the convention.

    American ratings are told in pounds too: no printed value is held to set beside them.
    """
    if strength.convention is AngleConvention.FROM_HORIZONTAL:
        return _american_loads(strength)
    return build_table(
        columns=(
            "Legs and angle",
            Column("Working load limit, t", is_number=True),
            "Governed by",
            Column("Formula, t", is_number=True),
            Column("Printed, t", is_number=True),
            Column("Printed off formula", is_number=True),
            "Rated by",
        ),
        lines=(
            Line(
                (
                    load.legs.text,
                    Cell(plain(load.rating.governing_t)),
                    "printed table" if load.rating.governed_by == "published" else "formula",
                    plain(load.rating.formula.stated),
                    plain(load.rating.published.wll_t) if load.rating.published else "none held",
                    difference_text(load),
                    load.legs.convention.words,
                )
            )
            for load in strength.loads
        ),
        folds=True,
    )


def _american_loads(strength: AssemblyStrength) -> Table:
    return build_table(
        columns=(
            "Legs and angle",
            Column("Working load limit, t", is_number=True),
            Column("In lb, rounded down", is_number=True),
            "Governed by",
            "Rated by",
        ),
        lines=(
            Line(
                (
                    load.legs.text,
                    Cell(plain(load.rating.governing_t)),
                    plain(pounds_of(load.rating.governing_t)),
                    "formula",
                    load.legs.convention.words,
                )
            )
            for load in strength.loads
        ),
        folds=True,
    )


def table_of_marks(checks: Iterable[MarkCheck]) -> Table:
    """Tell where a load may be marked, and where it lies above what governs."""
    return build_table(
        columns=("Legs and angle", "May it be marked?", "Why"),
        lines=(
            Line(
                (
                    check.legs.text,
                    Cell("yes", shape="good") if check.may_be_marked else Cell("no", shape="stop"),
                    check.text,
                ),
            )
            for check in checks
        ),
        folds=True,
    )


def table_of_regimes(told: Iterable[RegimeAsked]) -> Table:
    """Tell which rules on proof loads apply, and why."""
    return build_table(
        columns=("Rules", "Do they apply?", "Why", "Source"),
        lines=(
            Line(
                (
                    one.regime.name,
                    one.regime.applies.words,
                    one.regime.reason,
                    one.regime.source.text,
                )
            )
            for one in told
        ),
        folds=True,
    )


def table_of_proof_loads(told: Iterable[RegimeAsked]) -> Table:
    """Tell what each row of the rules asks for, by legs and angle."""
    return build_table(
        columns=(
            "Rule",
            "For",
            Column("Rated load, t", is_number=True),
            Column("Proof load", is_number=True),
            "Source",
            "Confidence",
        ),
        lines=_asked(told),
        folds=True,
    )


def _asked(told: Iterable[RegimeAsked]) -> Iterator[Line]:
    for regime in told:
        for one in regime.asked:
            yield Line(
                (
                    Cell(f"{one.row.item}: {one.row.printed}", note=regime.regime.name),
                    one.load.legs.text,
                    plain(one.load.rating.governing_t),
                    one.text,
                    one.row.source.name,
                    in_words(one.row.source.confidence),
                )
            )
