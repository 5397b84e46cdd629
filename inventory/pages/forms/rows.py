"""Decides how several rows of the same fields are asked for; rows left blank are no rows."""

from typing import TYPE_CHECKING, Any, cast

from django.forms import BaseFormSet, formset_factory
from django.forms.utils import ErrorDict, ErrorList

from inventory.pages.forms.asking import Ask

if TYPE_CHECKING:
    _AskSet = BaseFormSet[Ask]
else:  # Django's own class takes no type at run time
    _AskSet = BaseFormSet


class Rows(_AskSet):
    """Rows that can be asked to keep silent, and to tell what was typed in them."""

    default_error_messages = {
        "missing_management_form": "The page did not arrive whole; open it again and send it anew.",
        "too_many_forms": "At most %(num)d rows can be sent at once; send the others afterwards.",
        "too_few_forms": "Fill in at least %(num)d rows.",
    }

    def hush(self) -> None:
        """Keep what was typed and say nothing about what is missing.

        A row that was only just asked for starts with its usual values, as the first one did.
        """
        for form in self.forms:
            form.hush()
            form.is_bound = any(name.startswith(f"{form.prefix}-") for name in self.data)
        self._errors = [ErrorDict() for _ in self.forms]
        self._non_form_errors = ErrorList()

    @property
    def filled(self) -> list[dict[str, Any]]:
        """What was read, of the rows in which something was typed."""
        return [form.values for form in self.forms if form.has_changed()]


def rows_of(form: type[Ask], *, most: int) -> type[Rows]:
    """Return the class of rows of this form; at least one row is shown, and at most so many."""
    made = formset_factory(form, formset=Rows, extra=0, min_num=1, max_num=most)
    return cast("type[Rows]", made)
