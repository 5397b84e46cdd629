from decimal import Decimal

import pytest

from certs.rules.derived import Gap, Source
from certs.rules.termination import (
    AssemblyUse,
    Efficiency,
    TerminationKind,
    TerminationRefused,
    check_use,
    efficiency,
    weakest,
)
from inventory.rules.refusal import Refusal
from tests.certs.rules.tables import TERMINATIONS

TEN_MM = Decimal(10)
ARMY = "US Army TM 5-3810-305-10 Table 4"


def keeps(kind, standard, core="IWRC", diameter_mm=TEN_MM):
    return efficiency(
        TerminationKind(kind),
        standard=standard,
        core=core,
        diameter_mm=diameter_mm,
        rows=TERMINATIONS,
    )


# EN 13411-2, -3, -4, -8: read; EN 13411-5: from memory; EN 13411-6: a maker's text, the lower end
# of the range it quotes; US Army TM 5-3810-305-10 Table 4: read.
@pytest.mark.parametrize(
    ("kind", "standard", "kt", "is_provisional"),
    [
        ("hand_splice", "EN 13411-2", "0.80", False),
        ("ferrule_secured_eye", "EN 13411-3", "0.90", False),
        ("socket", "EN 13411-4", "1.00", False),
        ("u_bolt_grips", "EN 13411-5", "0.80", True),
        ("wedge_socket", "EN 13411-6", "0.75", False),
        ("swage_terminal", "EN 13411-8", "0.90", False),
        ("socket", ARMY, "1.00", False),
        ("swage_terminal", ARMY, "0.95", False),
        ("wedge_socket", ARMY, "0.75", False),
        ("u_bolt_grips", ARMY, "0.80", False),
    ],
)
def test_end_keeps_its_share(kind, standard, kt, is_provisional):
    held = keeps(kind, standard)
    assert held.kt == Decimal(kt)
    assert held.source.is_provisional is is_provisional


def test_sleeve_keeps_less_on_a_fibre_core():
    assert keeps("ferrule_secured_eye", ARMY, "FC").kt == Decimal("0.925")
    assert keeps("ferrule_secured_eye", ARMY, "IWRC").kt == Decimal("0.95")


# A US maker's table beside Table 4 of the manual: 0.925 and 0.90 for 1-1/16 to 2 in, 0.90 above
# on a steel core, not established above on a fibre core.
@pytest.mark.parametrize(
    ("inches", "core", "kt"),
    [
        pytest.param("1", "IWRC", "0.95", id="one-inch-steel"),
        pytest.param("1", "FC", "0.925", id="one-inch-fibre"),
        pytest.param("1.0625", "IWRC", "0.925", id="first-above-steel"),
        pytest.param("2", "IWRC", "0.925", id="two-inches-steel"),
        pytest.param("2", "FC", "0.90", id="two-inches-fibre"),
        pytest.param("2.125", "IWRC", "0.90", id="above-two-inches-steel"),
    ],
)
def test_sleeve_keeps_less_on_a_thicker_rope(inches, core, kt):
    held = keeps("ferrule_secured_eye", ARMY, core, Decimal(inches) * Decimal("25.4"))
    assert held.kt == Decimal(kt)


def test_of_two_rows_for_one_end_the_lower_share_is_given():
    held = keeps("hand_splice", ARMY, diameter_mm=Decimal("12.7"))
    assert (held.kt, held.name) == (Decimal("0.76"), "hand tucked 1/2 in stainless")


@pytest.mark.parametrize(
    ("kind", "standard", "core", "diameter_mm"),
    [
        pytest.param("wedge_socket", "EN 13411-7", "IWRC", TEN_MM, id="value-not-read"),
        pytest.param("swage_terminal", ARMY, "FC", TEN_MM, id="not-established-on-fibre"),
        pytest.param("ferrule_secured_eye", "EN 13411-3", "FC", Decimal(61), id="too-thick"),
        pytest.param("hand_splice", ARMY, "FC", Decimal(12), id="one-size-only"),
        pytest.param("ferrule_secured_eye", ARMY, "FC", Decimal(54), id="sleeve-above-two-inches"),
        pytest.param("ferrule_secured_eye", ARMY, "IWRC", Decimal(26), id="between-two-bands"),
        pytest.param("hand_splice", "EN 1341", "IWRC", TEN_MM, id="part-of-a-number"),
    ],
)
def test_what_is_not_held_is_a_gap(kind, standard, core, diameter_mm):
    held = keeps(kind, standard, core, diameter_mm)
    assert isinstance(held, Gap)
    assert "enter it" in held.reason


# EN 13411-5:2003+A1:2008 scope and EN 13411-7 scope (read); EN 13411-3: d up to 60 mm.
@pytest.mark.parametrize(
    ("kind", "use", "standard", "diameter_mm", "words"),
    [
        ("u_bolt_grips", "sling", "", "10", "EN 13411-5"),
        ("u_bolt_grips", "crane_or_mine_hoist", "", "10", "primary securing"),
        ("u_bolt_grips", "lift", "", "10", "static suspension"),
        ("u_bolt_grips", "other", "", "10", "static suspension"),
        ("wedge_socket", "sling", "EN 13411-7", "10", "lift ropes"),
        ("wedge_socket", "crane_or_mine_hoist", "EN 13411-7:2006", "10", "EN 13411-7"),
        ("ferrule_secured_eye", "sling", "EN 13411-3", "60.5", "up to 60 mm"),
    ],
)
def test_end_is_refused_with_reason_and_source(kind, use, standard, diameter_mm, words):
    with pytest.raises(TerminationRefused, match=words) as refusal:
        check_use(
            TerminationKind(kind),
            use=AssemblyUse(use),
            standard=standard,
            diameter_mm=Decimal(diameter_mm),
        )
    assert refusal.value.field == "termination"
    assert refusal.value.source.name in refusal.value.message


def test_wedge_socket_on_a_single_strand_is_refused():
    # EN 13411-6 scope: stranded rope (read).
    with pytest.raises(TerminationRefused, match="EN 13411-6"):
        check_use(
            TerminationKind.WEDGE_SOCKET,
            use=AssemblyUse.OTHER,
            standard="EN 13411-6",
            diameter_mm=TEN_MM,
            is_stranded=False,
        )


@pytest.mark.parametrize(
    ("kind", "use", "standard", "diameter_mm"),
    [
        ("u_bolt_grips", "static_suspension", "", "10"),
        ("u_bolt_grips", "single_use_lift", "", "10"),
        ("wedge_socket", "lift", "EN 13411-7", "10"),
        ("wedge_socket", "crane_or_mine_hoist", "EN 13411-6", "10"),
        ("ferrule_secured_eye", "sling", "EN 13411-3", "60"),
        ("socket", "sling", "EN 13411-4", "80"),
        ("hand_splice", "sling", "EN 13411-2", "80"),
    ],
)
def test_end_is_let_be_where_its_standard_allows(kind, use, standard, diameter_mm):
    verdict = check_use(
        TerminationKind(kind),
        use=AssemblyUse(use),
        standard=standard,
        diameter_mm=Decimal(diameter_mm),
    )
    assert verdict is None


def end(kt, place):
    kind = TerminationKind.SOCKET
    return Efficiency(kind, "socket", Decimal(kt), kt, Source("EN 13411-4"), place)


def test_weakest_end_is_named_with_its_place():
    found = weakest([end("1.00", "end A"), end("0.80", "end B"), end("0.90", "end C")])
    assert found.text == "socket at end B: KT 0.80, printed as 0.80; EN 13411-4"


def test_of_equal_ends_the_first_is_named():
    assert weakest([end("0.90", "end A"), end("0.90", "end B")]).place == "end A"


def test_end_without_place_is_named_all_the_same():
    assert weakest([end("0.90", "")]).text.startswith("socket: KT 0.90")


def test_assembly_without_ends_has_no_weakest_end():
    with pytest.raises(Refusal, match="at least one termination"):
        weakest([])
