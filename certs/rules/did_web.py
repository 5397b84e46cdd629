"""The house's name among machines: a did:web identifier made of its origin.

Source: did:web Method Specification (W3C Credentials Community Group): the host, with the colon
before a port written %3A; the document lies at /.well-known/did.json.
"""


def did_of(origin: str) -> str:
    """Return the identifier of an origin such as "https://rope.example:8443".

    Raises `ValueError` for a text without a host.
    """
    host = origin.partition("://")[2].partition("/")[0]
    if not host:
        message = f"no host in the origin {origin!r}"
        raise ValueError(message)
    return "did:web:" + host.replace(":", "%3A")


def key_address(did: str, name: str) -> str:
    """Return the address of a key in the identifier's document."""
    return f"{did}#{name}"
