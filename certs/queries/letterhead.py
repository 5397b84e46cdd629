"""Tells the head of the house's papers: the one that counts now, and those before it."""

from dataclasses import dataclass

from django.conf import settings
from django.db.models import QuerySet

from certs.models import Letterhead
from inventory.models import StoredFile
from inventory.queries.kept_files import FileIsNotAsKept, read_file


@dataclass(frozen=True, slots=True)
class Head:
    """What stands at the head of a paper; `logo_sha256` is empty where there is no logo."""

    name: str
    address: str
    contact: str = ""
    registration: str = ""
    accreditation: str = ""
    logo_sha256: str = ""

    def as_json(self) -> dict[str, str]:
        """Give it as it is frozen with a paper."""
        return {name: getattr(self, name) for name in self.__dataclass_fields__}


def current_letterhead() -> Head:
    """Give the head of papers that are issued now.

    Where none was set, name and address are those of the settings. One query.
    """
    row = last_letterhead()
    if row is None:
        return Head(name=settings.ISSUER_NAME, address=settings.ISSUER_ADDRESS)
    return Head(
        name=row.name,
        address=row.address,
        contact=row.contact,
        registration=row.registration,
        accreditation=row.accreditation,
        logo_sha256=row.logo.sha256 if row.logo else "",
    )


def last_letterhead() -> Letterhead | None:
    """Find the letterhead that was set last; None before the first."""
    return letterheads().first()


def letterheads() -> QuerySet[Letterhead]:
    """List all letterheads, the latest first."""
    return Letterhead.objects.select_related("logo", "set_by").order_by("-pk")


def letterhead_of(pk: int) -> Letterhead | None:
    """Find a letterhead."""
    return letterheads().filter(pk=pk).first()


def logo_of(sha256: str) -> bytes:
    """Read the bytes of a logo by their hash: empty where no paper names one, or it is lost.

    A paper without its logo is whole; a lost file is told by the audit.
    """
    if not sha256:
        return b""
    stored = StoredFile.objects.filter(sha256=sha256, media_type="image/png").first()
    try:
        return read_file(stored) if stored else b""
    except FileIsNotAsKept:
        return b""
