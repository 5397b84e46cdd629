from decimal import Decimal

from certs.pages.derivations import shown_steps
from certs.rules.derived import Derived, Given, Source

SOURCE = Source("a handbook", "2nd ed", "read")


def derived(**facts):
    told = {
        "quantity": "breaking force",
        "symbol": "F",
        "formula": "F = K d² R / 1000",
        "inputs": (Given("K", "factor", "0.388", "", SOURCE), Given("d", "diameter", "12", "mm")),
        "source": SOURCE,
        "unrounded": Decimal("98.89344"),
        "stated": Decimal("98.9"),
        "unit": "kN",
        "rounding": "three figures, half up",
        "basis": "factor K",
    }
    return Derived(**{**told, **facts})


def test_a_number_is_never_shown_bare():
    (step,) = shown_steps(derived())
    assert (step.stated, step.unrounded, step.rounding) == (
        "98.9 kN", "98.89344 kN", "three figures, half up",
    )  # fmt: skip
    assert (step.source, step.edition, step.confidence) == ("a handbook", "2nd ed", "one source")
    assert [given.source for given in step.inputs] == ["a handbook", "from the record"]


def test_what_it_rests_on_comes_first_and_once():
    earlier = derived(quantity="rope force")
    later = derived(quantity="ended force", rests_on=(earlier, earlier))
    assert [step.title for step in shown_steps(later)] == ["Rope force", "Ended force"]


def test_what_is_from_memory_is_called_provisional():
    (step,) = shown_steps(derived(source=Source("recalled", "", "memory")))
    assert any(note.startswith("Provisional") for note in step.notes)


def test_a_long_tail_of_digits_is_cut_and_marked():
    (step,) = shown_steps(derived(unrounded=Decimal(1) / Decimal(3)))
    assert step.unrounded == "0.3333333333… kN"
