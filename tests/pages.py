"""Reads a page as a browser would: what its boxes hold, and which message stands beside which."""

from dataclasses import dataclass, field
from html.parser import HTMLParser
from typing import Any


@dataclass
class Page:
    """The boxes of a page by name, the ids and texts of its elements, and what refers to what."""

    boxes: dict[str, list[str]] = field(default_factory=dict)
    box_ids: dict[str, str] = field(default_factory=dict)
    described: dict[str, list[str]] = field(default_factory=dict)
    invalid: set[str] = field(default_factory=set)
    texts: dict[str, str] = field(default_factory=dict)
    links: list[str] = field(default_factory=list)
    ids: list[str] = field(default_factory=list)
    tags: list[tuple[str, dict[str, str]]] = field(default_factory=list)
    text: str = ""

    def held(self, name: str) -> str:
        """Returns what one box holds."""
        return (self.boxes.get(name) or [""])[0]

    def message(self, name: str) -> str:
        """Returns the message that a box points to, or ''."""
        ids = self.described.get(self.box_ids.get(name, ""), [])
        return " ".join(self.texts[i] for i in ids if i.endswith("-wrong"))

    def sent(self) -> dict[str, list[str]]:
        """Returns what a browser would send of the page's form."""
        return {name: list(values) for name, values in self.boxes.items()}


def read_page(html: str) -> Page:
    """Returns what the page holds."""
    reader = _Reader()
    reader.feed(html)
    return reader.page


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.page = Page()
        self._open: list[tuple[str, str]] = []
        self._select = ""
        self._area = ""

    def handle_starttag(self, tag: str, attrs: Any) -> None:
        known = {name: value or "" for name, value in attrs}
        self.page.tags.append((tag, known))
        if "id" in known:
            self.page.ids.append(known["id"])
            self.page.texts.setdefault(known["id"], "")
            self.page.described[known["id"]] = known.get("aria-describedby", "").split()
            if known.get("aria-invalid") == "true":
                self.page.invalid.add(known["id"])
        if tag == "a":
            self.page.links.append(known.get("href", ""))
        self._box(tag, known)
        if tag not in ("input", "meta", "link", "br", "img", "hr"):
            self._open.append((tag, known.get("id", "")))

    def _box(self, tag: str, known: dict[str, str]) -> None:
        name = known.get("name", "")
        if tag == "select":
            self._select = name
        if tag == "textarea":
            self._area = name
            self.page.boxes[name] = [""]
        if tag in ("input", "select", "textarea") and name:
            self.page.box_ids.setdefault(name, known.get("id", ""))
        if tag == "option" and self._select:
            held = self.page.boxes.setdefault(self._select, [])
            if "selected" in known or not held:
                held[:] = [known.get("value", "")]
        if tag == "input" and name:
            held = self.page.boxes.setdefault(name, [])
            kind = known.get("type", "text")
            if kind not in ("checkbox", "radio") or "checked" in known:
                held.append(known.get("value", "y" if kind == "checkbox" else ""))

    def handle_endtag(self, tag: str) -> None:
        if tag == "select":
            self._select = ""
        if tag == "textarea":
            self.page.boxes[self._area][0] = self.page.boxes[self._area][0].removeprefix("\r\n")
            self._area = ""
        while self._open and self._open.pop()[0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        self.page.text += data
        if self._area:
            self.page.boxes[self._area][0] += data
        for _, name in self._open:
            if name:
                self.page.texts[name] += data
