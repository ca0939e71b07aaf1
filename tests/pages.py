"""What stands in a page, for the tests of whatever writes HTML."""

from __future__ import annotations

import re
from html.parser import HTMLParser

VOID = {"meta", "br", "wbr", "img", "link", "input"}


class Page(HTMLParser):
    """What stands in a page: its tags in order, its attributes, and the text of each section."""

    def __init__(self, text):
        super().__init__()
        self.open, self.tags, self.attributes = [], [], []
        self.heading, self.headings = "", []
        self._pieces = {}
        self.feed(text)
        self.close()
        self.sections = {
            heading: " ".join(" ".join(pieces).split()) for heading, pieces in self._pieces.items()
        }

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += attrs
        if tag not in VOID:
            self.open.append(tag)
        if re.fullmatch("h[1-6]", tag):
            self.headings.append((int(tag[1]), ""))

    def handle_startendtag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += attrs

    def handle_endtag(self, tag):
        if tag not in VOID:
            assert self.open.pop() == tag

    def handle_data(self, data):
        if "style" in self.open:
            return
        for level in (1, 2, 3):
            if f"h{level}" in self.open:
                self.headings[-1] = (level, self.headings[-1][1] + data)
                if level == 2:
                    self.heading = self.headings[-1][1]
        self._pieces.setdefault(self.heading, []).append(data)

    def section(self, start):
        (text,) = (t for heading, t in self.sections.items() if heading.startswith(start))
        return text
