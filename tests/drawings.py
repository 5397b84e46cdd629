"""Reads a drawing as strict XML; what is not well formed fails here."""

from xml.etree import ElementTree as ET

SVG = "{http://www.w3.org/2000/svg}"


def read_drawing(markup):
    return ET.fromstring(markup)  # noqa: S314 -- the drawing was made a line ago, by us


def texts_of(markup):
    """Return the words on a drawing, each with its element."""
    return {node.text: node for node in read_drawing(markup).iter(SVG + "text")}
