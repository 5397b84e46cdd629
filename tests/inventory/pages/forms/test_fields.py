import pytest
from django.core.exceptions import ValidationError

from inventory.models import CutPiece
from inventory.pages.forms.codes import CodeField, CodesField, FittingsField
from inventory.pages.forms.lines import AnalysisField
from inventory.pages.forms.quantities import ForceField, LengthField, MassField
from tests import factories as given


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        pytest.param("12.5", 12_500, id="metres"),
        pytest.param(" 12,5 m ", 12_500, id="decimal comma"),
        # 1 ft = 0.3048 m exactly (NIST SP 811).
        pytest.param("41 ft", 12_497, id="feet"),
    ],
)
def test_a_length_is_read_into_millimetres(text, mm):
    assert LengthField().clean(text) == mm


def test_a_length_left_empty_is_what_the_field_says():
    assert LengthField(required=False).clean("") is None
    assert LengthField(required=False, empty=0).clean("") == 0


def test_a_length_is_shown_as_it_is_typed():
    assert LengthField().prepare_value(12_500) == "12.500 m"
    assert LengthField().prepare_value("12,5") == "12,5"


def test_a_force_is_read_into_newtons():
    assert ForceField().clean("84.6") == 84_600
    assert ForceField().prepare_value(84_600) == "84.6 kN"


@pytest.mark.parametrize("text", ["5 t", "1,000", "much"])
def test_what_is_no_force_is_an_error_of_the_field(text):
    with pytest.raises(ValidationError):
        ForceField().clean(text)


def test_a_mass_is_read_into_grams():
    assert MassField(max_digits=9, decimal_places=3).clean("55.2") == 55_200
    assert MassField(required=False).clean("") is None


@pytest.mark.parametrize(
    ("text", "read"),
    [
        pytest.param("C 0.78\nMn 0.620", {"C": "0.78", "Mn": "0.620"}, id="lines"),
        pytest.param("C: 0,78 %; S <0.005", {"C": "0,78", "S": "<0.005"}, id="marks"),
        pytest.param("\n\n", {}, id="nothing"),
    ],
)
def test_an_analysis_is_read_figure_by_figure(text, read):
    assert AnalysisField(required=False).clean(text) == read


def test_a_piece_is_found_by_its_code(db):
    piece = given.given_piece()
    assert CodeField(kind=CutPiece).clean("p-1") == piece
    assert CodeField(kind=CutPiece, required=False).clean("") is None


def test_pieces_are_found_once_each(db):
    reel = given.given_reel()
    first, second = given.given_piece(reel=reel), given.given_piece(reel=reel)
    assert CodesField(kind=CutPiece).clean("P-1, P2\nP-00001") == [first, second]


@pytest.mark.parametrize("text", ["R-00001", "P-00009", "no code"])
def test_what_is_no_piece_is_an_error_of_the_field(text, db):
    given.given_reel()
    with pytest.raises(ValidationError, match="is no cut piece"):
        CodeField(kind=CutPiece).clean(text)


def test_fittings_are_read_with_their_count(db):
    ferrules, thimbles = given.given_fitting_lot(), given.given_fitting_lot()
    read = FittingsField().clean("F-1 x 4, F-00002")
    assert read == [(ferrules, 4), (thimbles, 1)]
