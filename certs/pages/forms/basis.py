"""Reads which basis is named for a reel; whether it speaks of the rope is decided by the rules."""

from collections.abc import Iterator
from typing import Any

from django import forms

from certs.models import StrengthBasis
from certs.queries.derivation import Suggestion, suggested_bases
from certs.rules.confidence import in_words
from inventory.models import Reel
from inventory.pages.forms.asking import Ask
from inventory.rules.units import format_kn


class BasisForm(Ask):
    """The row that the strength rests on, and why it is the right one."""

    basis = forms.ChoiceField(
        widget=forms.RadioSelect,
        help_text="What speaks of this rope, the lowest force first. The same trade name hides"
        " different strengths: choose what was ordered and documented, not what is highest.",
    )
    reason = forms.CharField(
        max_length=300,
        help_text="Why this is the right basis, for example: named in the mill document and in the"
        " order.",
    )

    def __init__(self, *args: Any, reel: Reel, **kwargs: Any) -> None:  # noqa: ANN401 -- Django’s own signature
        """Offer what speaks of the reel's rope."""
        super().__init__(*args, **kwargs)
        self._offered = {_key(one): one for one in suggested_bases(reel.designation)}
        field = self.fields["basis"]
        if isinstance(field, forms.ChoiceField):
            field.choices = list(_choices(self._offered, reel))

    @property
    def has_choices(self) -> bool:
        """Whether there is anything to choose from."""
        field = self.fields["basis"]
        return isinstance(field, forms.ChoiceField) and bool(field.choices)

    @property
    def values(self) -> dict[str, Any]:
        """The chosen row, as the service asks for it."""
        reason = self.cleaned_data["reason"]
        one = self._offered.get(self.cleaned_data["basis"])
        if one is None:
            return {"kind": StrengthBasis.Kind.DECLARED.value, "reason": reason}
        return {
            "kind": one.kind.value,
            "factor": one.factor,
            "tabulated": one.tabulated,
            "agreed": one.agreed,
            "reason": reason,
        }


def _key(one: Suggestion) -> str:
    row = one.factor or one.tabulated or one.agreed
    return f"{one.kind.value}-{row.pk if row else ''}"


def _choices(offered: dict[str, Suggestion], reel: Reel) -> Iterator[tuple[str, str]]:
    if reel.declared_force_n is not None:
        yield "declared", f"{format_kn(reel.declared_force_n)}: the maker’s declared value"
    for key, one in offered.items():
        confidence = in_words(one.force.source.confidence)
        yield key, f"{one.force.text}: {one.force.basis} [{confidence}]"
