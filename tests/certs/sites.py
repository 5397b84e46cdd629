"""Invented reports from site, and photographs as a phone would send them."""

import io

from PIL import Image

from certs.models import SiteReport, Tag
from certs.services.report_from_site import report_from_site
from certs.services.tags import issue_tag
from inventory.documents.photograph import take_photograph
from tests.factories import MOMENT, given_person, given_piece


def a_photograph(*, colour=(120, 90, 60), kind="JPEG") -> bytes:
    """A picture with the name of its owner in it, as cameras write it."""
    exif = Image.Exif()
    exif[0x010E] = "Secret Owner"
    buffer = io.BytesIO()
    Image.new("RGB", (48, 32), colour).save(buffer, kind, exif=exif)
    return buffer.getvalue()


def given_tag(piece=None, assembly=None) -> Tag:
    thing = {"assembly": assembly} if assembly else {"piece": piece or given_piece()}
    return issue_tag(**thing, by=given_person(), at=MOMENT)


def given_report(tag=None, *, photos=(), **facts) -> SiteReport:
    plain = {"kind": "damage", "words": "Broken wires near the thimble.", "at": MOMENT}
    taken = [take_photograph(sent) for sent in photos]
    return report_from_site(tag=tag or given_tag(), photos=taken, **(plain | facts))
