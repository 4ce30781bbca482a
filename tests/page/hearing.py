"""What a reader of screens would stumble over on a page."""

from collections import Counter
from html.parser import HTMLParser

VOID = {"br", "img", "input", "link", "meta", "hr"}
FIELDS = {"input", "select", "textarea", "progress"}
LANDMARKS = {"h1": 1, "main": 1, "title": 1}


class Hearing(HTMLParser):
    """A page by its elements, each with those that it stands in and the words in it."""

    def __init__(self, text):
        super().__init__()
        self.elements, self._open = [], []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        one = Element(tag, {name: value or "" for name, value in attrs}, tuple(self._open))
        self.elements.append(one)
        if tag not in VOID:
            self._open.append(one)

    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)
        self.handle_endtag(tag)

    def handle_endtag(self, tag):
        while any(one.tag == tag for one in self._open) and self._open.pop().tag != tag:
            pass

    def handle_data(self, data):
        for one in self._open:
            one.words += data

    def of(self, *tags):
        """The elements of some kinds, in order."""
        return [one for one in self.elements if one.tag in tags]


class Element:
    """An element of a page."""

    def __init__(self, tag, has, within):
        self.tag, self.has, self.within, self.words = tag, has, within, ""

    def __str__(self):
        return f"{self.tag} {self.has}"

    def stands_in(self, tag):
        """Whether it is part of one of these."""
        return any(one.tag == tag for one in self.within)

    @property
    def named(self):
        """Whether it says by itself what it is."""
        return bool({"aria-label", "aria-labelledby", "alt"} & self.has.keys())


def stumbles(text):
    """What is wrong on a page for who does not see it, in words."""
    page = Hearing(text)
    ids = Counter(one.has["id"] for one in page.elements if "id" in one.has)
    found = [f"{count} of the id {name}" for name, count in ids.items() if count > 1]
    found += [f"{tag}: not {count}" for tag, count in LANDMARKS.items()
              if len([one for one in page.of(tag) if not one.stands_in("svg")]) != count]
    found += [f"no language: {one}" for one in page.of("html") if one.has.get("lang") != "en-GB"]
    found += _fields(page) + _headings(page) + _parts(page)
    for one in page.elements:
        for name in ("aria-describedby", "aria-labelledby", "for"):
            found += [f"{one} names no {other}" for other in one.has.get(name, "").split()
                      if other not in ids]
        to = one.has.get("href", "")
        if to.startswith("#") and to[1:] not in ids:
            found.append(f"{one} leads nowhere")
    return found


def _fields(page):
    """Fields without a label."""
    labels = {one.has.get("for") for one in page.of("label")}
    return [f"no label: {one}" for one in page.of(*FIELDS)
            if one.has.get("type") != "hidden" and not one.named and not one.stands_in("label")
            and one.has.get("id") not in labels]


def _headings(page):
    """A heading that leaves out a step."""
    found, last = [], 0
    for one in page.of("h1", "h2", "h3", "h4"):
        level = int(one.tag[1])
        found += [f"{one} after h{last}"] if level > last + 1 else []
        last = level
    return found


def _parts(page):
    """Pictures, tables, groups, links and buttons without a name."""
    found = [f"no scope: {one}" for one in page.of("th") if "scope" not in one.has]
    found += [f"no name: {one}" for one in page.of("nav", "img") if not one.named]
    found += [f"no words: {one}" for one in page.of("a", "button", "summary", "label", "option")
              if not one.named and not one.words.strip() and "hidden" not in one.has]
    for holder, head in (("figure", "figcaption"), ("table", "caption"), ("fieldset", "legend")):
        headed = {id(within) for one in page.of(head) for within in one.within}
        found += [f"no {head}: {one}" for one in page.of(holder)
                  if not one.named and id(one) not in headed]
    return found + [f"a picture in no figure: {one}" for one in page.of("svg")
                    if not one.stands_in("figure")]
