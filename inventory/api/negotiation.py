"""Answers in JSON whatever the client says it would like; files are sent as what they are."""

from collections.abc import Iterable

from rest_framework.negotiation import DefaultContentNegotiation
from rest_framework.renderers import BaseRenderer
from rest_framework.request import Request


class JsonAlways(DefaultContentNegotiation):
    """Bodies are read as what they say they are; the answer is not up to negotiation."""

    def select_renderer(
        self,
        request: Request,
        renderers: Iterable[BaseRenderer],
        format_suffix: str | None = None,
    ) -> tuple[BaseRenderer, str]:
        """Choose the first."""
        first = next(iter(renderers))
        return first, str(first.media_type)
