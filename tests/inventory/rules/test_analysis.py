import pytest

from inventory.rules.analysis import ELEMENTS, check_analysis
from inventory.rules.refusal import Refusal

# The symbols of the IUPAC periodic table, from memory; steel analyses speak of some of them.
IUPAC = (
    "H He Li Be B C N O F Ne Na Mg Al Si P S Cl Ar K Ca Sc Ti V Cr Mn Fe Co Ni Cu Zn Ga Ge As Se "
    "Br Kr Rb Sr Y Zr Nb Mo Tc Ru Rh Pd Ag Cd In Sn Sb Te I Xe Cs Ba La Ce Pr Nd Pm Sm Eu Gd Tb "
    "Dy Ho Er Tm Yb Lu Hf Ta W Re Os Ir Pt Au Hg Tl Pb Bi Po At Rn"
)


def test_every_symbol_is_an_element():
    assert set(IUPAC.split()) >= ELEMENTS


@pytest.mark.parametrize(
    ("printed", "kept"),
    [("0.72", "0.72"), ("0.720", "0.720"), (" 0,72 ", "0.72"), ("<0.005", "<0.005"), ("18", "18")],
)
def test_a_figure_is_kept_as_printed(printed, kept):
    assert check_analysis({"C": printed}) == {"C": kept}


def test_an_analysis_may_be_empty():
    assert check_analysis({}) == {}


@pytest.mark.parametrize("symbol", ["Xx", "c", "MN", "", "Carbon"])
def test_what_is_no_symbol_is_refused(symbol):
    with pytest.raises(Refusal, match="no element"):
        check_analysis({symbol: "0.1"})


@pytest.mark.parametrize("figure", ["", "-0.1", "0.1 %", "1e-3", "NaN", "0.1.2", ">0.1", "٣"])
def test_what_is_no_figure_is_refused(figure):
    with pytest.raises(Refusal, match="no content of C"):
        check_analysis({"C": figure})


def test_the_parts_are_not_more_than_the_whole():
    assert check_analysis({"Fe": "99.9", "C": "0.1"})
    with pytest.raises(Refusal, match="more than the whole"):
        check_analysis({"Fe": "99.9", "C": "0.101"})
