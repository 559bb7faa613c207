"""The elements of an SVG file as a plain tree, and the style each one states.

Nothing is ever fetched: entities are refused, outside files ignored.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from xml.parsers import expat

from explore.reading.outline import StampError

MOST_ELEMENTS, DEEPEST = 5_000, 100

_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)


@dataclass
class Element:
    """One element: its tag without a namespace, attributes as written, children in document order."""

    tag: str
    attributes: dict[str, str]
    children: list[Element] = field(default_factory=list)
    text: str = ""

    def walk(self) -> list[Element]:
        """This element and all within it, in document order."""
        return [self, *(inner for child in self.children for inner in child.walk())]


def parsed(data: bytes) -> Element:
    """The root element of an SVG file. Raises StampError for anything that is not plain, sound SVG."""
    builder = _Builder()
    parser = expat.ParserCreate()
    parser.buffer_text = True
    parser.EntityDeclHandler = _refuse_entity
    parser.StartElementHandler = builder.start
    parser.EndElementHandler = builder.end
    parser.CharacterDataHandler = builder.characters
    try:
        parser.Parse(data, True)
    except expat.ExpatError as error:
        where = f"line {error.lineno}, column {error.offset + 1}"
        raise StampError(f"is not sound XML at {where}: {expat.ErrorString(error.code)}") from None
    except (LookupError, UnicodeError, ValueError) as error:
        if isinstance(error, StampError):
            raise
        raise StampError("is written in an unknown encoding; save it as UTF-8") from None
    root = builder.root.children[0]
    if root.tag != "svg":
        raise StampError(f"holds <{root.tag[:40]}> where an SVG drawing has <svg>")
    return root


def _refuse_entity(name: str, *_: object) -> None:
    raise StampError(f"declares the XML entity {name[:40]!r}; save it as plain SVG without entities")


class _Builder:
    """Collects elements as the parser meets them; stops at MOST_ELEMENTS and DEEPEST."""

    def __init__(self) -> None:
        self.root = Element("", {})
        self._open = [self.root]
        self._count = 0

    def start(self, name: str, attributes: dict[str, str]) -> None:
        prefix, _, tag = name.rpartition(":")
        self._count += 1
        if self._count > MOST_ELEMENTS:
            raise StampError(f"has more than {MOST_ELEMENTS} elements; a stamp is a simpler drawing")
        if len(self._open) > DEEPEST:
            raise StampError(f"nests elements more than {DEEPEST} deep")
        # Elements of other vocabularies keep their prefix, so that nobody takes them for shapes.
        element = Element(tag if prefix in ("", "svg") else name, attributes)
        self._open[-1].children.append(element)
        self._open.append(element)

    def end(self, _name: str) -> None:
        self._open.pop()

    def characters(self, text: str) -> None:
        self._open[-1].text += text


class Styles:
    """The rules of a drawing's <style> elements: selectors *, tag, .class, #id and tag.class."""

    def __init__(self, root: Element) -> None:
        self._rules: dict[str, dict[str, str]] = {}
        for element in root.walk():
            if element.tag == "style":
                self._add(element.text)

    def _add(self, text: str) -> None:
        for rule in _COMMENT.sub("", text).split("}"):
            selectors, brace, body = rule.partition("{")
            for selector in selectors.split(",") if brace else ():
                self._rules.setdefault(selector.strip(), {}).update(_declarations(body))

    def of(self, element: Element) -> dict[str, str]:
        """What the element states itself: attributes, then rules from broad to narrow, then its own style."""
        tag, names = element.tag, element.attributes.get("class", "").split()
        selectors = ["*", tag, *(f".{name}" for name in names), *(f"{tag}.{name}" for name in names)]
        stated = dict(element.attributes)
        for selector in (*selectors, "#" + element.attributes.get("id", "")):
            stated.update(self._rules.get(selector, {}))
        stated.update(_declarations(element.attributes.get("style", "")))
        return stated


def _declarations(text: str) -> dict[str, str]:
    pairs = (declaration.partition(":") for declaration in text.split(";"))
    return {name.strip(): value.replace("!important", "").strip() for name, colon, value in pairs if colon}
