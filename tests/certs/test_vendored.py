"""Vendored files are byte for byte what was published, and nothing beside them is served."""

import hashlib

import pytest
from django.conf import settings

FOLDER = settings.ROOT / "certs" / "static" / "certs" / "vendor" / "barcode"
# Of the files in the published packages; the second also stands in the first, which checks it.
SHA256 = {
    "barcode-detector-3.2.2.js": "e3aa2057178b8ea71dd97003270331bbcb46499197b68bc0c7dd18e40c0863ea",
    "zxing-reader-3.1.3.wasm": "2ebda08a93eea3efcd8399cda6b276e6a0b1de4fec60b4d8988a047de4c6d1ba",
}


@pytest.mark.parametrize("name", SHA256)
def test_the_file_is_the_published_one(name):
    assert hashlib.sha256((FOLDER / name).read_bytes()).hexdigest() == SHA256[name]


def test_the_script_names_this_very_reader():
    script = (FOLDER / "barcode-detector-3.2.2.js").read_text()
    assert SHA256["zxing-reader-3.1.3.wasm"] in script


def test_nothing_else_lies_there():
    assert {path.name for path in FOLDER.iterdir()} == {
        *SHA256,
        "LICENSE-barcode-detector.txt",
        "LICENSE-zxing-wasm.txt",
        "README.md",
    }
