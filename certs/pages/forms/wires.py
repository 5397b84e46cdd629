"""Reads what was measured on the wires of a rope; what it shows is judged by the rules."""

from django import forms
from django.core.exceptions import ValidationError

from certs.models import WireTest
from certs.rules.load_log import LineProblem
from certs.rules.wire_force import read_factors
from certs.rules.wire_lines import UnreadableWires, read_wires
from inventory.models import CutPiece, Reel
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.codes import CodeField
from inventory.pages.forms.moments import MomentField
from inventory.queries.registers import machines
from inventory.rules.refusal import Refusal

EXAMPLE = (
    "outer strand; 0,33; 171,4; 6\nouter strand; 0,33; 149,3; 6; 170,6\ncentre; 0,33; 165,4; 6"
)


class WiresField(forms.CharField):
    """The wires as text, one a line."""

    widget = forms.Textarea

    def clean(self, value: object) -> object:
        """Read the wires; the lines at fault are kept in the error."""
        text = super().clean(value)
        try:
            return read_wires(text)
        except UnreadableWires as refusal:
            raise ValidationError(
                refusal.message, params={"problems": refusal.problems}, code="lines"
            ) from refusal
        except Refusal as refusal:
            raise ValidationError(refusal.message) from refusal


class FactorsField(forms.CharField):
    """One factor or three."""

    def clean(self, value: object) -> object:
        """Read the factors."""
        text = super().clean(value)
        try:
            return read_factors(text)
        except Refusal as refusal:
            raise ValidationError(refusal.message) from refusal


class WireTestForm(Ask):
    """The wires of one rope, tested one by one."""

    method = forms.ChoiceField(
        label="How the wires were tested",
        choices=WireTest.Method.choices,
        widget=forms.RadioSelect,
        help_text="ISO 10425 keeps the methods apart; method 1 is a break of the rope itself.",
    )
    sample = CodeField(
        kind=CutPiece,
        label="Sample that was unlaid",
        required=False,
        help_text="Method 2: the code of the piece cut as a sample, P-…",
    )
    reel = CodeField(
        kind=Reel,
        label="Reel",
        required=False,
        help_text="Method 3: the reel that the wires were laid into, R-…",
    )
    paper = forms.CharField(
        label="Maker’s paper",
        max_length=200,
        required=False,
        help_text="Method 3: in which the forces of the wires stand.",
    )
    machine = forms.ModelChoiceField(
        queryset=machines(),
        label="Testing machine",
        required=False,
        help_text="Method 2: its calibration must cover the forces of single wires.",
    )
    tested_at = MomentField(
        label="Tested",
        help_text="Date and time of the test. The calibration of that day counts.",
    )
    wires = WiresField(
        label="Wires",
        max_length=100_000,
        help_text=(
            "One wire a line: layer; diameter in mm; force in N; how many wires it stands for;"
            " force of a retest, if there was one. Semicolon or tab between, decimal point or"
            " comma; forces as they were read, to the thousandth of a newton. Name centre wires,"
            " fillers and core wires so: they are not judged like the others."
        ),
        widget=forms.Textarea(
            attrs={"rows": 12, "cols": 60, "spellcheck": "false", "placeholder": EXAMPLE}
        ),
    )
    spinning_factors = FactorsField(
        label="Spinning-loss factor",
        required=False,
        max_length=80,
        help_text=(
            "Partial for method 2, total for method 3: all three of the type test, such as 0.93;"
            " 0.92; 0.94, of which the lowest counts, or the one that a paper states. Left empty:"
            " no force is calculated."
        ),
    )
    spinning_source = forms.CharField(
        label="Where the factor comes from",
        max_length=200,
        required=False,
        help_text="Type test, annex or paper with its number.",
    )
    note = forms.CharField(max_length=300, required=False)

    @property
    def line_problems(self) -> tuple[LineProblem, ...]:
        """The lines of wires at fault."""
        problems = (
            (error.params or {}).get("problems", ())
            for error in self.errors.as_data().get("wires", ())
        )
        return tuple(next(problems, ()))
