"""Mill documents: the list, one document with its scan to download, and filing one."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from inventory.models import MillDocument, Reel
from inventory.pages.acting import (
    deed,
    done,
    for_act,
    found,
    initial_from,
    perform,
    signed_in,
    typed,
)
from inventory.pages.evidence import download
from inventory.pages.facts import Fact, told
from inventory.pages.forms.makers import DocumentForm, MadeFilter
from inventory.pages.links import cell_of
from inventory.pages.origin_tables import table_of_documents
from inventory.pages.reading import day, moment, shown_metres
from inventory.pages.rendering import show, show_list
from inventory.pages.sorting import Sorts
from inventory.pages.table import Column, Line, Table, build_table
from inventory.queries import registers
from inventory.queries.things import document_of_code
from inventory.rules.roles import Act
from inventory.services.receive import file_mill_document

_SORTS: Sorts = {
    "Document": ("id",),
    "Number": ("number",),
    "Maker": ("mill__name",),
    "Dated": ("issued_date",),
}


@signed_in
def documents(request: HttpRequest) -> HttpResponse:
    """List the mill documents."""
    filters = MadeFilter(request.GET)
    asked = {"mill": filters.read("mill"), "number": filters.read("number") or ""}
    return show_list(
        request,
        "inventory/documents.html",
        rows=registers.mill_documents(**asked),
        table=table_of_documents,
        area="documents",
        noun="documents",
        sorts=_SORTS,
        filters=filters,
    )


@signed_in
def document(request: HttpRequest, code: str) -> HttpResponse:
    """Show a mill document."""
    shown = found(document_of_code(code))
    return show(
        request,
        "inventory/document.html",
        area="documents",
        document=shown,
        facts=_facts(shown),
        reels=_reels(list(registers.reels_of_document(shown))),
    )


@signed_in
def document_file(request: HttpRequest, code: str) -> HttpResponse:
    """Hand out the scan, if its bytes are those that were filed."""
    shown = found(document_of_code(code))
    return download(request, shown.file, back="inventory:document", code=code)


@for_act(Act.FILE_MILL_DOCUMENT)
def file(request: HttpRequest) -> HttpResponse:
    """Ask for a document and its scan."""
    form = DocumentForm(*typed(request), initial=initial_from(request, "mill"))
    filed = perform(request, lambda: _file(request, form), form)
    if filed is not None:
        said = f"{filed.number} is filed as {filed.code}."
        return done(request, said, "inventory:document", filed.code)
    return show(
        request,
        "inventory/file_document.html",
        area="documents",
        form=form,
        submit="File this document",
        cancel=reverse("inventory:documents"),
    )


def _file(request: HttpRequest, form: DocumentForm) -> MillDocument:
    scan = form.values["content"]
    facts: dict[str, Any] = {**form.values, "content": scan.read(), "file_name": scan.name}
    return file_mill_document(**facts, **deed(request))


def _facts(document: MillDocument) -> list[Fact]:
    scan = document.file
    return told(
        Fact("Number", document.number),
        Fact("Type (EN 10204)", document.get_kind_display()),
        Fact("Maker", document.mill.name, note=document.mill.code),
        Fact("Dated", day(document.issued_date)),
        Fact("Validated by", document.validated_by or "not said on it"),
        Fact("What was received", document.get_form_display()),
        Fact("Scan", scan.name, note=f"{scan.media_type}, {scan.size_bytes} bytes"),
        Fact("SHA-256 of the scan", scan.sha256),
        Fact("Filed", moment(document.filed_at), note=f"by {document.filed_by}"),
    )


def _reels(reels: list[Reel]) -> Table:
    return build_table(
        columns=("Reel", "Rope", Column("Length", is_number=True)),
        lines=(
            Line((cell_of(reel), reel.designation, shown_metres(reel.length_mm))) for reel in reels
        ),
        folds=True,
    )
