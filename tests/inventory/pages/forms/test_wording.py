import pytest
from django import forms
from django.core.exceptions import ValidationError

from inventory.pages.forms.asking import Ask
from inventory.pages.forms.quantities import LengthField
from inventory.pages.forms.signing_in import SignInForm
from inventory.services.pass_phrases import LongEnough, NotCommon


class Asked(Ask):
    length_mm = LengthField(label="Length", max_length=5)
    purpose = forms.ChoiceField(choices=[("supply", "supply")])
    day = forms.DateField()
    when = forms.DateTimeField()
    count = forms.IntegerField(min_value=1, max_value=9)
    mass = forms.DecimalField(max_digits=4, decimal_places=1)
    scan = forms.FileField(label="Scan")
    own = forms.CharField(error_messages={"required": "Say why."})
    is_good = forms.BooleanField(label="It is good")


GOOD = {
    "length_mm": "5", "purpose": "supply", "day": "2026-11-25", "when": "2026-11-25 14:05",
    "count": "3", "mass": "1.5", "own": "because", "is_good": "on",
}  # fmt: skip


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        ("length_mm", "", "Enter “Length”; it cannot be left empty."),
        ("length_mm", "123456", "Shorten it to 5 characters; it has 6."),
        ("length_mm", "1\x00", "Take out the invisible character (NUL) and send it again."),
        ("purpose", "", "Choose one for “Purpose”."),
        ("purpose", "gift", "“gift” is none of the choices; choose one of the list."),
        ("day", "25.11.", "Write the day as 2026-11-25."),
        ("when", "noon", "Write day and time as 2026-11-25 14:05."),
        ("count", "three", "Write a whole number, such as 12."),
        ("count", "0", "Enter 1 or more."),
        ("count", "10", "Enter 9 or less."),
        ("mass", "heavy", "Write a number, such as 12 or 12.5."),
        ("mass", "1.25", "Write it with at most 1 decimals."),
        ("mass", "12345", "Write it with at most 4 digits."),
        ("scan", "", "Choose a file for “Scan”."),
        ("own", "", "Say why."),
        ("is_good", "", "Tick “It is good” if it is so; without it this cannot be done."),
    ],
)
def test_a_field_says_what_to_do(name, typed, said):
    form = Asked({**GOOD, name: typed}, {})
    assert said in form.errors[name]


def test_the_sign_in_says_what_to_do(rf, db):
    form = SignInForm(rf.post("/sign-in/"), data={"username": "", "password": ""})
    assert form.errors["password"] == ["Enter “Pass phrase”; it cannot be left empty."]


@pytest.mark.parametrize(
    ("judge", "phrase", "said"),
    [
        (LongEnough(min_length=12), "short", "write 12 characters or more"),
        (NotCommon(), "password1234", "take several words"),
    ],
)
def test_a_pass_phrase_that_is_not_fit_says_what_to_do(judge, phrase, said):
    with pytest.raises(ValidationError, match=said):
        judge.validate(phrase)
