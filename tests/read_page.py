"""A page of the build sheet as its readers have it: in one system of units or the other."""

import re
from html.parser import HTMLParser

VOID = {"meta", "link", "br", "hr", "img", "input", "col", "wbr"}
SYSTEMS = ("metric", "inch")


class Page(HTMLParser):
    """A strict reader: every tag closed in its order; text by system of units."""

    def __init__(self, text):
        super().__init__()
        self.open, self.ids, self.links, self.tags = [], [], [], set()
        self.words = {system: [] for system in SYSTEMS}
        self.feed(text)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        attributes = dict(attrs)
        assert len(attributes) == len(attrs), f"{tag} with an attribute twice"
        self.tags.add(tag)
        self.ids += [attributes["id"]] if "id" in attributes else []
        self.links += [attributes[name] for name in ("href", "src", "action") if name in attributes]
        if tag not in VOID:
            self.open.append((tag, attributes.get("class") or ""))

    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.handle_endtag(tag)

    def handle_endtag(self, tag):
        assert self.open and self.open[-1][0] == tag, f"</{tag}> closes {self.open[-1:]}"
        self.open.pop()

    def handle_data(self, data):
        classes = {name for _, some in self.open for name in some.split()}
        if self.open and self.open[-1][0] in {"style", "title"}:
            return
        for system in SYSTEMS:
            if not classes & (set(SYSTEMS) - {system}):
                self.words[system].append(data)

    def text(self, system):
        """What is read in one system of units."""
        return re.sub(r"\s+", " ", "".join(self.words[system]))


def flat(sentence):
    """A sentence as it stands in the page's text."""
    return re.sub(r"\s+", " ", sentence)
