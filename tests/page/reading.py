"""A page taken apart as a browser takes it: its elements, its links, and the forms it sends."""

from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import urlsplit

from tests.page.pages import OWN

OFFERED = ("select", "radio", "checkbox")
"""Kinds of field whose values the page offers; the others take what is typed."""


@dataclass
class Field:
    """A field of a form, with what the page offers for it."""

    name: str
    kind: str
    value: str | None = None
    offers: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Button:
    """Where a button sends its form, and what it adds to it."""

    to: str
    method: str
    adds: dict[str, str]


@dataclass
class Form:
    """A form with its fields as they are shown, and the buttons of it that can be pressed."""

    action: str
    method: str
    fields: dict[str, Field] = field(default_factory=dict)
    buttons: list[Button] = field(default_factory=list)

    @property
    def own(self):
        """What it sends where nothing was typed."""
        return {one.name: one.value for one in self.fields.values() if one.value is not None}

    @property
    def open(self):
        """The fields that somebody can change."""
        return [one for one in self.fields.values() if one.kind != "hidden"]


def pressed(one, page, button, fields):
    """What comes of a button of a page, without script."""
    to = button.to or urlsplit(str(page.url)).path
    sent = {**fields, **button.adds}
    if button.method == "get":
        return one.get(to, params=sent)
    return one.post(to, data=sent, headers=OWN)


class Reading(HTMLParser):
    """The elements, links and forms of a page."""

    def __init__(self, text):
        super().__init__()
        self.elements, self.forms, self.links, self.words = [], [], [], []
        self._form = self._choice = self._offer = None
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        has = {name: value or "" for name, value in attrs}
        self.elements.append((tag, has))
        self.links += [has[name] for name in ("href", "src", "data-again", "data-turn")
                       if has.get(name, "").startswith("/")]
        if tag == "form":
            self._form = Form(has.get("action", ""), has.get("method", "get"))
            self.forms.append(self._form)
        elif self._form is not None:
            self._of_form(tag, has)

    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)

    def handle_endtag(self, tag):
        if tag == "form":
            self._form = None

    def handle_data(self, data):
        self.words.append(data)
        if self._offer is not None and self._offer[1] is None:
            self._offered(data.strip())  # an option without a value is its words

    def _offered(self, value):
        one, chosen = self._choice, self._offer[0]
        one.offers.append(value)
        if one.value is None or chosen:
            one.value = value
        self._offer = None

    def _of_form(self, tag, has):
        form, name = self._form, has.get("name", "")
        if tag == "button" and has.get("type", "submit") == "submit" and "disabled" not in has:
            form.buttons.append(Button(
                has.get("formaction", form.action).partition("#")[0],
                has.get("formmethod", form.method), {name: has.get("value", "")} if name else {}))
        elif tag == "select":
            self._choice = form.fields[name] = Field(name, tag)
        elif tag == "option":
            self._offer = ("selected" in has, has.get("value"))
            if "value" in has:
                self._offered(has["value"])
        elif tag in ("input", "textarea") and name:
            kind = has.get("type", "text")
            one = form.fields.setdefault(name, Field(name, kind))
            one.offers.append(has.get("value", ""))
            if kind not in OFFERED or "checked" in has:
                one.value = has.get("value", "")
