"""Reads a page for what a strict policy forbids: what would run or style from within it."""

from html.parser import HTMLParser


class Inline(HTMLParser):
    """Collects scripts and styles that stand in the page itself, and addresses that run."""

    def __init__(self, nonce):
        super().__init__()
        self.nonce, self.found = nonce, []

    def handle_starttag(self, tag, attrs):
        given = dict(attrs)
        for name, value in attrs:
            if name.startswith("on") or name == "style":
                self.found.append(f"<{tag} {name}>")
            if name in {"href", "src", "action", "formaction"}:
                self._address(tag, value or "")
        if tag == "script" and "src" not in given:
            self.found.append("<script> without src")
        if tag == "style" and (not self.nonce or given.get("nonce") != self.nonce):
            self.found.append("<style> without the nonce of this answer")
        if tag in {"iframe", "object", "embed", "base", "applet"}:
            self.found.append(f"<{tag}>")

    def _address(self, tag, value):
        scheme = value.strip().split(":", 1)[0].lower() if ":" in value else ""
        if scheme in {"javascript", "vbscript"} or (scheme == "data" and tag != "link"):
            self.found.append(f"<{tag}> leads to {value[:30]}")


def inline_of(page, nonce):
    reader = Inline(nonce)
    reader.feed(page)
    return reader.found
