// What a changed field does: it is posted, and the parts of the page that come back otherwise take
// the place of those that are there. Without this script every form works by its button.

const LOOK_MS = 4000; // between two looks whether something else has changed the file
const AGAIN_MS = 3000; // until what could not be sent is sent again
const FOLLOW_MS = 500; // between two looks at what takes long
const STILL_PX = 4; // a finger that moves less does not turn a picture
const DEG_PER_PX = 0.5;
const KEY_DEG = 5;

const parser = new DOMParser();
let work = Promise.resolve(); // one thing after the other: each is sent with the newest state
let waiting = 0;
let taking = false; // whether what this window had made is still to be saved

/** Do `task` once all that was asked for before is done. */
function inTurn(task) {
  waiting += 1;
  work = work.then(task).catch(() => undefined).finally(() => { waiting -= 1; });
  return work;
}

/** What stands in the fields of a form, and which one was changed last. */
function contents(form, first) {
  const body = new URLSearchParams(new FormData(form));
  if (first) body.set("first", first);
  return body;
}

/** The values of all fields on the page, by id: what was typed since must not be overwritten. */
function standing(which = "value") {
  const fields = document.querySelectorAll("input[id], select[id]");
  return new Map(Array.from(fields, (one) => [one.id, one[which]]));
}

/** Put what came back in its place; what was typed since it was asked for stays. */
function swap(text, before) {
  const page = parser.parseFromString(text, "text/html");
  for (const one of document.querySelectorAll("details[open][id]"))
    page.getElementById(one.id)?.setAttribute("open", "");
  for (const whole of page.querySelectorAll("[data-as]")) { // fields that are others now
    const old = document.getElementById(whole.id);
    if (old && old.dataset.as !== whole.dataset.as) replace(old, whole);
  }
  if (!page.querySelector("[data-part]")) say(`${text} What you typed stays here.`);
  for (const part of page.querySelectorAll("[data-part]")) {
    const old = document.getElementById(part.id);
    if (old && old.outerHTML !== part.outerHTML) replace(old, part);
  }
  for (const field of page.querySelectorAll("input[id], select[id]")) {
    const old = document.getElementById(field.id);
    if (!old || old.closest("[data-part]")) continue;
    for (const name of ["aria-invalid", "aria-describedby"])
      old[field.hasAttribute(name) ? "setAttribute" : "removeAttribute"](name, field.getAttribute(name));
    if (field.type === "radio") old.checked = field.checked;
    const untouched = old.value === (before.get(field.id) ?? old.value);
    const { value } = field; // of a list: before its choices go over
    if (untouched && field.matches("select")) old.replaceChildren(...field.children);
    if (untouched && old.value !== value) setValue(old, value);
    old.defaultValue = field.defaultValue;
  }
  if (page.title) document.title = page.title;
  recall();
}

/** Store a form that has data-keep on this device; `sent` where it waits for its answer. */
function store(form, sent) {
  if (form?.dataset.keep) localStorage.setItem(form.dataset.keep, `${contents(form)}&sent=${sent}`);
  recall();
}

/** Put what is stored back into its fields; on a page that is `fresh`, send what waited. */
function recall(fresh) {
  for (const form of document.querySelectorAll("[data-keep]")) {
    const stored = new URLSearchParams(localStorage.getItem(form.dataset.keep) ?? "");
    const sent = stored.get("sent") === "true";
    for (const [name, value] of stored) {
      if (form.elements[name] && (sent || name !== "as_of")) form.elements[name].value = value;
      document.getElementById(`dim-${name}`)?.classList.toggle("read", value !== "");
    }
    form.querySelector("[data-unsent]")?.toggleAttribute("hidden", !stored.has("sent"));
    if (fresh && sent) form.requestSubmit();
  }
  inHand();
}

/** A part in the place of another; what was in focus there is again, or its like, or the part. */
function replace(old, part) {
  if (part.dataset.turn && old.dataset.turn) {
    Object.assign(part.dataset, { round: old.dataset.round, up: old.dataset.up });
    drawTurned(part);
  }
  const within = old.contains(document.activeElement) ? document.activeElement : null;
  old.replaceWith(part);
  if (within) {
    const [was, now] = [old, part].map((one) => [...one.querySelectorAll(within.localName)]);
    (document.getElementById(within.id) ?? now[was.indexOf(within)])?.focus({ preventScroll: true });
    if (document.activeElement === document.body) Object.assign(part, { tabIndex: -1 }).focus();
  }
  if (part.dataset.again) follow(part);
}

/** Save what this window had made, once it is there. */
function take() {
  const link = taking && document.querySelector("[data-take]");
  if (!link) return;
  taking = false;
  link.click();
}

/** Look again at a part that says where: what it tells of takes long. */
async function follow(part) {
  if (part.followed) return;
  part.followed = true;
  while (part.isConnected) {
    await pause(FOLLOW_MS);
    const answer = await fetch(part.dataset.again).catch(() => undefined);
    const page = parser.parseFromString((await answer?.text()) ?? "", "text/html");
    const now = page.getElementById(part.id);
    if (now && part.isConnected && now.outerHTML !== part.outerHTML) replace(part, now);
    take();
  }
}

/** Another value in a field, the caret where it was. */
function setValue(field, value) {
  const caret = document.activeElement === field ? field.selectionStart : null;
  field.value = value;
  if (Number.isInteger(caret)) field.setSelectionRange(caret, caret);
}

/** Say something that no answer of the server says. */
function say(words) {
  const notice = document.createElement("p");
  Object.assign(notice, { className: "notice", textContent: words });
  document.getElementById("notice").replaceChildren(notice);
}

const pause = (ms) => new Promise((done) => { setTimeout(done, ms); });

/** Send a form until the server has it; only what it answers is said to be kept. */
async function send(form, first, button) {
  const looks = (button?.getAttribute("formmethod") ?? form.method) === "get";
  const [place] = (button?.getAttribute("formaction") ?? form.action).split("?");
  const { keep, then } = form.dataset;
  for (;;) {
    const [before, body] = [standing(), contents(form, looks ? "" : first)];
    if (looks) for (const [key, value] of [...body]) if (!value || key === "as_of") body.delete(key);
    const stored = keep && localStorage.getItem(keep);
    if (keep && !stored) return; // pressed again before its answer came
    if (keep && !stored.endsWith("sent=true")) return say("Not sent: it was changed since. Press again.");
    try {
      const answer = looks ? await fetch(`${place}?${body}`) : await fetch(
        `${place}${location.search}`, { method: "POST", body, credentials: "same-origin" });
      const kept = answer.ok && !first;
      if (!kept) store(form, false);
      else if (keep && localStorage.getItem(keep) === stored) localStorage.removeItem(keep);
      swap(await answer.text(), before);
      taking = answer.ok && Boolean(button?.matches("[data-takes]"));
      take();
      if (kept && then) location.replace(then);
      else if (new URL(answer.url).pathname === location.pathname) history.replaceState(null, "", answer.url);
      else if (answer.redirected && form.method === "post") location.assign(answer.url);
      return;
    } catch {
      say("Not kept yet: coper does not answer. What you typed stays here and is sent again.");
      await pause(AGAIN_MS);
    }
  }
}

/** Show what an address has in the place of what is here; what was typed stays in its field. */
async function show(to) {
  const answer = await fetch(to);
  swap(await answer.text(), standing("defaultValue"));
  history.replaceState(null, "", to);
  return answer.ok;
}

/** Show the page anew where the file is another one now. */
async function look() {
  const known = document.getElementById("as-of");
  if (!known || document.hidden || waiting) return;
  try {
    const answer = await fetch(`/${location.pathname.split("/")[1]}/as-of`);
    const now = await answer.text();
    if (!answer.ok) return swap(now, standing());
    if (waiting || !now || now === known.value) return;
    if (await show(location.href)) say("Another window or program changed the job: this is how it is now.");
  } catch {
    // said when something is to be sent
  }
}

/** The dimension of the field in hand is heavy in the drawing; a link in hand is the address's. */
function inHand() {
  const old = document.querySelectorAll(".in-hand:not(a *, .turned *), .round .in-hand");
  for (const one of old) one.classList.remove("in-hand");
  const first = document.querySelector(".reading [value='']")?.name;
  const field = document.activeElement?.name?.split(".").pop(); // what is tried lights its line as well
  const name = [document.activeElement?.name, field, location.hash.slice(1), first]
    .find((one) => document.getElementById(`dim-${one}`));
  for (const id of [name, `dim-${name}`]) document.getElementById(id)?.classList.add("in-hand");
}

/** Draw a picture as it is seen from where it is turned to. */
async function drawTurned(figure) {
  figure.stale = true;
  if (figure.drawing) return;
  figure.drawing = true;
  while (figure.stale) {
    figure.stale = false;
    const { turn, round, up } = figure.dataset;
    const to = `${turn}${turn.includes("?") ? "&" : "?"}round=${round}&up=${up}`;
    const text = await fetch(to).then((one) => one.ok && one.text()).catch(() => ""); // or as it was
    const drawn = parser.parseFromString(text || "", "text/html").querySelector("svg");
    if (drawn) figure.querySelector("svg")?.replaceWith(drawn);
  }
  figure.drawing = false;
}

/** Turn a picture by degrees round the upright and up. */
function turnBy(figure, round, up) {
  const from = figure.dataset;
  from.round = ((Number(from.round) + round + 540) % 360 - 180).toFixed(1);
  from.up = Math.min(90, Math.max(-90, Number(from.up) + up)).toFixed(1);
  drawTurned(figure);
}

let held = null; // the picture under the finger, and where that was last

document.addEventListener("pointerdown", (event) => {
  const figure = event.target.closest?.("[data-turn]");
  held = figure && event.button === 0 ? { figure, x: event.clientX, y: event.clientY } : null;
});
document.addEventListener("pointermove", (event) => {
  if (!held || !event.buttons) return;
  const [across, down] = [event.clientX - held.x, event.clientY - held.y];
  if (!held.moved && Math.hypot(across, down) < STILL_PX) return;
  Object.assign(held, { x: event.clientX, y: event.clientY, moved: true });
  turnBy(held.figure, across * DEG_PER_PX, down * DEG_PER_PX);
});
document.addEventListener("click", (event) => { // the end of a drag is no click
  if (held?.moved && held.figure.contains(event.target)) event.preventDefault();
  held = null;
}, true);
document.addEventListener("click", (event) => { // a side or a dot: without the page anew
  const link = event.target.closest?.("a[data-side], #view a, #picked a");
  const to = link && new URL(link.href.baseVal ?? link.href, location);
  if (to?.pathname !== location.pathname || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  const figure = document.getElementById(link.dataset.side);
  if (!figure) return void inTurn(() => show(to)).then(() => document.getElementById("picked")?.focus());
  const { round, up } = Object.fromEntries(to.searchParams);
  Object.assign(figure.dataset, { round, up });
  drawTurned(figure);
});
document.addEventListener("dragstart",
  (event) => event.target.closest?.("[data-turn]") && event.preventDefault());
document.addEventListener("keydown", (event) => {
  const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  if (!event.target.matches?.("[data-turn]") || !way[event.key]) return;
  event.preventDefault();
  turnBy(event.target, ...way[event.key].map((one) => one * KEY_DEG));
});
document.addEventListener("change", (event) => {
  const form = event.target.form;
  if (!form?.matches("[data-live]") || event.target.closest("[data-round]")) return;
  inTurn(() => send(form, event.target.name));
});
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.matches("[data-live]")) return;
  event.preventDefault();
  inTurn(() => send(form, "", event.submitter));
  store(form, true);
});
/** A reading by its buttons: as exact as their step, and never below 0. */
function stepped(button) {
  const field = button.parentElement.querySelector("input");
  const places = button.dataset.by.split(".")[1].length;
  const value = Number.parseFloat(field.value.replace(",", ".")) || 0;
  field.value = Math.max(value + Number(button.dataset.by), 0).toFixed(places);
  store(field.form, false);
}

document.addEventListener("input", (event) => store(event.target.form, false));
for (const kind of ["hashchange", "focusin", "focusout"]) window.addEventListener(kind, inHand);
document.addEventListener("click", (event) => {
  const dimension = event.target.closest?.("[id^='dim-']");
  if (event.target.matches?.("[data-by]")) stepped(event.target);
  if (dimension) document.getElementById(dimension.id.slice("dim-".length))?.focus();
});
document.addEventListener("visibilitychange", look);
window.addEventListener("focus", look);
setInterval(look, LOOK_MS);
document.querySelectorAll("[data-again]").forEach(follow);
recall(true);
for (const one of document.querySelectorAll("form[data-live]:not([data-keep], [data-round]) input[id]:not([type=radio], [type=checkbox])"))
  if (one.value !== one.defaultValue && one !== document.activeElement) inTurn(() => send(one.form, one.name)); // typed before this ran
