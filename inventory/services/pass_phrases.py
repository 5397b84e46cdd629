"""Says what to do about a pass phrase that is not fit; what is fit, Django's validators decide."""

from django.contrib.auth.password_validation import (
    CommonPasswordValidator,
    MinimumLengthValidator,
)


class LongEnough(MinimumLengthValidator):
    """A pass phrase has some length."""

    def get_error_message(self) -> str:
        """Say how long."""
        return f"This pass phrase is too short: write {self.min_length} characters or more."


class NotCommon(CommonPasswordValidator):
    """A pass phrase is none of those that everybody tries first."""

    def get_error_message(self) -> str:
        """Say what to take instead."""
        return "This pass phrase is too common: take several words that do not belong together."
