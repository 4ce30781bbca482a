"""Somebody who follows any link, and sends any form with anything in its fields."""

from urllib.parse import quote

from coper.job.read import parse_job
from coper.page.answers.stations import KEYS
from tests.page.reading import OFFERED, Reading, pressed

SLOW = (".pdf", "/saws", "/care", "/room", "/full-size", "/print/make", "/print/lay")
"""What is only asked for in a search: it takes long."""

ODD = ("", "0", "-1", "1", "7", "60", "400", "1e9", "1e-9", "-1e308", "1e309", "nan", "inf", "28,6",
       "1-1/8in", "0 1/0in", "12 mm", "12 ft", "50%", "٣", "1_000", "0x10", "9" * 400, "0, 0, 0",
       "0, 0, 500", "1, 2", "1, 2, 3, 4", "0; 0; 0", "10, 20, nan", "seat-tube", "seat-tube, 405",
       "a.b", "a/b", "..", "-", " ", "\t", "\x00", "\x1b[31m", "\r\nX: y", "\u202e", "\ufeff", "🚲",
       "ﬁ", "é" * 100, "'", '"', '"""', "\\", "\\u0041", "#", "]", "[[x]]", "= 1", "{}", "true",
       "<b id=put>x</b>", "&lt;", "{{ 7 * 7 }}", "%s", "%00", "round 28.6 x 0.9", "rect 40x20x2",
       "28.6x0.9", "miter", "both", "left", "yes", "None", "99.4, 100.2", "fork.top", "up 5",
       "x" * 5000)
"""What a field may be given: numbers, words of the grammar, and what is none of either."""

ALLOWED = (200, 201, 404, 409, 422)


class Monkey:
    """One of them at a page; ``chance`` is where their choices come from."""

    def __init__(self, one, paths, chance, slow=False):
        self.one, self.paths, self.chance, self.slow = one, paths, chance, slow
        self.done, self.page, self.reading = [], None, None

    def goes_on(self, steps):
        """Do so many things, each answered."""
        for _ in range(steps):
            if self.page is None or self.chance.random() < 0.05:
                path = self.chance.choice(self.paths)
                self._look(f"/{path.stem}/{self.chance.choice(KEYS)}")
            elif self.forms and self.chance.random() < 0.6:
                self._send(self.chance.choice(self.forms))
            elif self.reading.links:
                self._look(self.chance.choice(self.reading.links))
            else:
                self.page = None

    @property
    def forms(self):
        """Those of the page that can be sent."""
        return [form for form in self.reading.forms if form.buttons]

    def _look(self, place):
        if not self.slow and any(one in place for one in SLOW):
            return
        if "view.svg" in place or "end.svg" in place:
            ask = "&" if "?" in place else "?"
            place += f"{ask}round={quote(self._odd())}&up={quote(self._odd())}"
        self.done.append(("GET", place))
        self._answered(self.one.get(place))

    def _send(self, form):
        typed, chance = form.own, self.chance
        for one in chance.sample(form.open, min(len(form.open), chance.randrange(3))):
            offered = one.offers and one.kind in OFFERED and chance.random() < 0.8
            typed[one.name] = chance.choice(one.offers) if offered else self._odd()
        for name in list(typed):  # as no browser would
            if chance.random() < 0.02:
                typed[name] = self._odd()
            if chance.random() < 0.02:
                del typed[name]
        if form.open and chance.random() < 0.3:
            typed["first"] = chance.choice(form.open).name
        button = chance.choice(form.buttons)
        if self.slow or not any(one in button.to for one in SLOW):
            self.done.append((button, typed))
            self._answered(pressed(self.one, self.page, button, typed))

    def _odd(self):
        return self.chance.choice(ODD)

    def _answered(self, page):
        assert page.status_code in ALLOWED, (page.status_code, self.done[-3:], page.text[-600:])
        for path in self.paths:
            parse_job(path.read_text())
        if page.headers["content-type"].startswith("text/html"):
            self.page, self.reading = page, Reading(page.text)
            assert not [one for one in self.reading.elements if one[1].get("id") == "put"]
