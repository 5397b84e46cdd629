"""Naming a basis and entering an agreement: what must fit, and what is written down."""

from datetime import timedelta

import pytest

from certs.models import AgreedSpecification, StrengthBasis
from certs.queries.derivation import NoBasis
from certs.services.specify import CannotSpecify, add_agreed_specification, name_basis
from inventory.models import JournalEntry
from inventory.rules.designation import DesignationError
from inventory.rules.roles import Role
from inventory.services.authority import NotAllowed
from tests.certs.claims import given_factor, given_table_row
from tests.factories import MOMENT, given_customer, given_person, given_reel

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]


def agree(**said):
    values = {
        "name": "Agreement 7",
        "edition": "2026",
        "agreed_with": given_customer(),
        "paper": "minutes of 1 March 2026, page 2",
        "designation": "12 7x7 1770 B",
        "by": given_person(),
        "at": MOMENT,
    }
    return add_agreed_specification(**(values | said))


def name(reel=None, **said):
    values = {"kind": "factor", "reason": "as ordered", "by": given_person(), "at": MOMENT}
    return name_basis(reel=reel or given_reel(), **(values | said))


def test_an_agreement_is_written_with_its_rope_in_full():
    row = agree(factor_k=" 0.359 ")
    assert (row.designation, row.factor_k) == ("12 6x7-WSC 1770 B sZ", "0.359")


def test_the_journal_holds_the_figures_of_an_agreement_and_no_names():
    row = agree(
        force_n=90_000,
        name="Agreement with Invented Customer",
        mass_minus_pct=" 2 ",
        mass_plus_pct="4.5",
    )
    assert (row.mass_minus_pct, row.mass_plus_pct) == ("2", "4.5")
    entry = JournalEntry.objects.order_by("number").last()
    assert entry.act == "add_specification"
    assert '"force_n":90000' in entry.canonical
    assert '"mass_minus_pct":"2","mass_plus_pct":"4.5"' in entry.canonical
    assert "Invented Customer" not in entry.canonical


@pytest.mark.parametrize(
    ("said", "field"),
    [
        pytest.param({}, "factor_k", id="neither factor nor force"),
        pytest.param({"factor_k": "0.3", "force_n": 1}, "factor_k", id="both"),
        pytest.param({"force_n": 0}, "force_n", id="no force"),
        pytest.param({"factor_k": "3.56"}, "factor_k", id="decimal mark slipped"),
        pytest.param({"factor_k": "NaN"}, "factor_k", id="no number"),
        pytest.param({"factor_k": "0.3", "factor_w": "38"}, "factor_w", id="mass slipped"),
        pytest.param(
            {"factor_k": "0.3", "diameter_plus_pct": "5"}, "diameter_minus_pct", id="one limit"
        ),
        pytest.param(
            {"factor_k": "0.3", "mass_minus_pct": "5"}, "mass_minus_pct", id="one limit of mass"
        ),
    ],
)
def test_figures_that_cannot_be_are_refused(said, field):
    with pytest.raises(NoBasis) as refused:
        agree(**said)
    assert refused.value.field == field
    assert not AgreedSpecification.objects.exists()


def test_a_factor_for_a_us_grade_is_refused():
    with pytest.raises(NoBasis, match="is a name"):
        agree(designation="1/2 in 6x7-FC IPS U sZ", factor_k="0.332")


def test_a_designation_that_is_none_is_refused():
    with pytest.raises(DesignationError):
        agree(designation="some rope", factor_k="0.332")


def test_a_name_is_used_once():
    agree(factor_k="0.359")
    with pytest.raises(CannotSpecify):
        agree(factor_k="0.332")


def test_a_paper_must_be_named():
    with pytest.raises(CannotSpecify) as refused:
        agree(factor_k="0.359", paper=" ")
    assert refused.value.field == "paper"


def test_a_basis_stands_with_who_named_it_and_why():
    basis = name(factor=given_factor("6x7", "WSC"))
    assert (basis.named_by, basis.named_at, basis.reason) == (given_person(), MOMENT, "as ordered")


def test_the_journal_holds_the_basis_and_the_force_it_gives():
    reel = given_reel()
    name(reel, factor=given_factor("6x7", "WSC"))
    entry = JournalEntry.objects.order_by("number").last()
    assert (entry.act, entry.subject) == ("name_basis", reel.code)
    # 0.388 x 144 x 1770 / 1000, to three figures.
    assert '"force_n":98900' in entry.canonical


@pytest.mark.parametrize("kind", ["table", "agreed", "declared"])
def test_the_journal_holds_bases_of_every_kind(kind):
    reel = given_reel(designation="12 6x7-FC 1770 B sZ", declared_force_n=84_000)
    rows = {
        "table": {"tabulated": given_table_row("API Spec 9A", "12", "1770")},
        "agreed": {"agreed": agree(designation=reel.designation, factor_k="0.33")},
        "declared": {},
    }
    name(reel, kind=kind, **rows[kind])
    assert f'"kind":"{kind}"' in JournalEntry.objects.order_by("number").last().canonical


def test_naming_another_keeps_the_first():
    reel = given_reel()
    first = name(reel, factor=given_factor("6x7", "WSC"))
    name(reel, factor=given_factor("6x7", "WSC"), at=MOMENT + timedelta(days=1))
    assert StrengthBasis.objects.filter(pk=first.pk, reel=reel).exists()
    assert reel.strength_bases.count() == 2


def test_a_factor_of_another_core_is_refused():
    with pytest.raises(NoBasis, match="core") as refused:
        name(factor=given_factor("6x7", "FC"))
    assert refused.value.field == "core"
    assert not StrengthBasis.objects.exists()


def test_a_row_of_another_size_is_refused():
    reel = given_reel(designation="12 6x7-FC 1770 B sZ")
    with pytest.raises(NoBasis, match="the row is for 14 mm"):
        name(reel, kind="table", tabulated=given_table_row("API Spec 9A", "14", "1770"))


def test_an_agreement_on_another_rope_is_refused():
    with pytest.raises(NoBasis, match="is for 10 6x7-WSC 1770 B sZ"):
        name(kind="agreed", agreed=agree(designation="10 7x7 1770 B", factor_k="0.359"))


def test_a_declared_basis_needs_a_declared_value():
    with pytest.raises(NoBasis, match="declared no breaking force"):
        name(kind="declared")


@pytest.mark.parametrize(
    "said",
    [
        pytest.param({"kind": "guess"}, id="no such kind"),
        pytest.param({"kind": "factor"}, id="no row"),
        pytest.param({"kind": "declared", "factor": True}, id="a row too many"),
        pytest.param({"kind": "table", "factor": True}, id="the wrong row"),
    ],
)
def test_kind_and_row_go_together(said):
    if said.get("factor"):
        said = said | {"factor": given_factor("6x7", "WSC")}
    with pytest.raises(CannotSpecify) as refused:
        name(**said)
    assert refused.value.field == "kind"


def test_a_reason_must_be_given():
    with pytest.raises(CannotSpecify) as refused:
        name(factor=given_factor("6x7", "WSC"), reason=" ")
    assert refused.value.field == "reason"


@pytest.mark.parametrize("role", [Role.STORES, Role.TEST_BENCH, Role.ADMINISTRATOR])
def test_only_the_qa_officer_specifies(role):
    with pytest.raises(NotAllowed):
        name(factor=given_factor("6x7", "WSC"), by=given_person(role))
    with pytest.raises(NotAllowed):
        agree(factor_k="0.359", by=given_person(role))
