"""What a reader reads of a page: its words, without the markup between them."""

import html
import re


def words_of(markup):
    """The words in one line; codes and figures are often in an element that keeps them whole."""
    apart = re.sub(r"</?(?:div|p|dl|dt|dd|li|td|th|tr|h\d|small)\b[^>]*>", " ", markup)
    return " ".join(html.unescape(re.sub("<[^>]+>", "", apart)).split())
