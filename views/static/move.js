/*
 * Picks a tag of the board up, by pointer or by keyboard, asks the server what it would mean where it is held, and says so
 * before it is let go. Without script the menus under the board do the same with a page between.
 */
const ASK_AFTER_MS = 250;
const DRAG_FROM_PX = 6;
const NEWS_LASTS_MS = 10_000;

const box = document.createElement("div");
box.className = "move-price";
box.setAttribute("aria-live", "polite");
box.hidden = true;
const hint = Object.assign(document.createElement("span"), {
  id: "pick-hint",
  hidden: true,
  textContent: "Press Enter to pick it up and move it.",
});
document.body.append(box, hint);
document.documentElement.classList.add("has-script");

/** What is held: its tag and menu, where it would go, and what the server said of that. */
let held;
let press;
let asking;
let boxTimer;

function showHints() {
  for (const element of document.querySelectorAll(".with-script")) element.hidden = false;
}
showHints();
document.addEventListener("page-renewed", showHints);

const taskOf = (element) => `${element.dataset.job}/${element.dataset.task}`;
const boardDate = () => document.querySelector(".day-strip [aria-current]")?.closest("[data-date]").dataset.date ?? "";
const poleOf = (crew) => document.querySelector(`.pole[data-crew="${CSS.escape(crew)}"]`);

/** The other tasks on a crew's pole, each once, in the order of the day. */
function othersOn(crew) {
  const tags = [...(poleOf(crew)?.querySelectorAll(".tag[data-task]") ?? [])];
  const seen = new Set([held.task]);
  return tags.filter((tag) => !seen.has(taskOf(tag)) && seen.add(taskOf(tag)));
}

/** The places in a crew's day that can be told apart: those of the board's own day by what is on the pole. */
function placesOn(crew, date) {
  if (date !== boardDate()) return ["first", "last"];
  const others = othersOn(crew);
  if (others.length === 0) return ["first"];
  return ["first", ...others.slice(0, -1).map((tag) => `after:${taskOf(tag)}`), "last"];
}

const placesHere = () => placesOn(held.crew, held.date);

function pickUp(pick, isByPointer) {
  const tag = pick.closest(".tag");
  const task = taskOf(tag);
  const menu = [...document.querySelectorAll(".move-list details")].find((one) => taskOf(one) === task);
  if (menu === undefined) {
    const why = document.querySelector(pick.getAttribute("href"))?.textContent.trim().replace(/\s+/g, " ");
    say([why ?? "This stays where it is."], { isImpossible: true, lastsMs: NEWS_LASTS_MS });
    return;
  }
  const crew = menu.dataset.crew;
  const crews = [...menu.querySelectorAll('select[name="crew"] option')].map((option) => ({ id: option.value, name: option.textContent }));
  held = { pick, tag, menu, task, crew, crews, date: boardDate(), place: "first", price: undefined, isByPointer };
  const places = [...poleOf(crew).querySelectorAll(".tag[data-task]")].map(taskOf);
  held.place = placesHere()[Math.min([...new Set(places)].indexOf(task), placesHere().length - 1)] ?? "first";
  // Nothing is put under somebody's hand meanwhile.
  document.documentElement.dataset.busy = "";
  tag.classList.add("carried");
  say([`Picked up ${menu.querySelector(".move-what").textContent.trim()}.`], { keys: !isByPointer });
}

function letLoose() {
  asking?.abort.abort();
  clearTimeout(asking?.timer);
  asking = undefined;
  held?.tag.classList.remove("carried");
  document.querySelector(".is-target")?.classList.remove("is-target");
  document.body.classList.remove("is-carrying");
  for (const chip of document.querySelectorAll(".crew-chip")) chip.remove();
  const { pick } = held ?? {};
  held = undefined;
  delete document.documentElement.dataset.busy;
  document.dispatchEvent(new CustomEvent("page-free"));
  return pick;
}

function leave(sentence = "Left where it was.") {
  const pick = letLoose();
  pick?.focus({ preventScroll: true });
  say([sentence], { lastsMs: NEWS_LASTS_MS });
}

/** Holds it somewhere else and asks what that would mean. */
function hold(change) {
  const before = `${held.crew} ${held.date} ${held.place}`;
  Object.assign(held, change);
  if (!placesHere().includes(held.place)) held.place = held.place === "first" ? "first" : placesHere().at(-1);
  if (`${held.crew} ${held.date} ${held.place}` === before && asking !== undefined) return;
  markTarget();
  held.price = undefined;
  asking?.abort.abort();
  clearTimeout(asking?.timer);
  const abort = new AbortController();
  const timer = setTimeout(() => ask(abort.signal).catch(() => undefined), ASK_AFTER_MS);
  asking = { abort, timer };
}

async function ask(signal) {
  const mine = held;
  const query = new URLSearchParams({ crew: held.crew, date: held.date, place: held.place });
  let price;
  try {
    const answer = await fetch(`${held.menu.dataset.price}?${query}`, { signal, headers: { accept: "application/json" } });
    price = await answer.json();
  } catch (error) {
    if (signal.aborted) throw error;
    price = { isPossible: false, words: "The server does not say what this would mean. Try it again." };
  }
  if (held !== mine || signal.aborted) return;
  held.price = price;
  say([price.words], { isImpossible: !price.isPossible, keys: !held.isByPointer, buttons: held.isDropped === true });
  if (held.isDropped && !price.isPossible) leave(price.words);
}

/** Lets it go where it is held: makes the move that was shown, and no other. */
function letGo() {
  const { price, menu, crew, date, place } = held;
  if (price === undefined) {
    held.isDropped = true;
    return;
  }
  if (!price.isPossible) {
    if (held.isByPointer) leave(price.words);
    return;
  }
  const form = Object.assign(document.createElement("form"), { method: "post", action: menu.dataset.move, hidden: true });
  const { plan, asOf, digest } = price;
  for (const [name, value] of Object.entries({ crew, date, place, plan, asOf, digest })) {
    form.append(Object.assign(document.createElement("input"), { type: "hidden", name, value }));
  }
  document.body.append(form);
  form.submit();
}

function say(sentences, { isImpossible = false, lastsMs, keys = false, buttons = false } = {}) {
  clearTimeout(boxTimer);
  box.replaceChildren(...sentences.map((text) => Object.assign(document.createElement("p"), { textContent: text })));
  if (keys) {
    const words = "Left and right: crew. Up and down: place in the day. Page up and page down: day. Enter: do it. Escape: leave it.";
    box.append(Object.assign(document.createElement("p"), { className: "keys", textContent: words }));
  }
  if (buttons) {
    const [yes, no] = ["Do it", "Leave it"].map((textContent) => Object.assign(document.createElement("button"), { type: "button", textContent }));
    yes.addEventListener("click", letGo);
    no.addEventListener("click", () => leave());
    box.append(yes, no);
  }
  box.classList.toggle("is-impossible", isImpossible);
  box.hidden = false;
  if (lastsMs !== undefined) boxTimer = setTimeout(() => (box.hidden = true), lastsMs);
}

function markTarget() {
  document.querySelector(".is-target")?.classList.remove("is-target");
  const strip = document.querySelector(`.day-strip [data-date="${held.date}"]`);
  const target = held.date === boardDate() ? poleOf(held.crew) : strip;
  target?.classList.add("is-target");
  if (!held.isByPointer) target?.scrollIntoView({ block: "nearest", inline: "nearest" });
}

/* By keyboard. */

function step(list, from, by) {
  return list[Math.max(0, Math.min(list.length - 1, list.indexOf(from) + by))];
}

function addDays(date, days) {
  const [year, month, day] = date.split("-").map(Number);
  return new Date(Date.UTC(year, month - 1, day + days)).toISOString().slice(0, 10);
}

const KEYS = {
  ArrowLeft: () => ({ crew: step(held.crews.map(({ id }) => id), held.crew, -1) }),
  ArrowRight: () => ({ crew: step(held.crews.map(({ id }) => id), held.crew, 1) }),
  ArrowUp: () => ({ place: step(placesHere(), held.place, -1) }),
  ArrowDown: () => ({ place: step(placesHere(), held.place, 1) }),
  PageUp: () => ({ date: addDays(held.date, -1) }),
  PageDown: () => ({ date: addDays(held.date, 1) }),
};

document.addEventListener("keydown", (event) => {
  const pick = event.target.closest?.(".pick");
  if (held === undefined) {
    if (pick === null || pick === undefined || (event.key !== "Enter" && event.key !== " ")) return;
    event.preventDefault();
    pickUp(pick, false);
    return;
  }
  if (event.target.closest?.(".move-price button") && (event.key === "Enter" || event.key === " ")) return;
  if (event.key === "Escape") leave();
  else if (event.key === "Enter" || event.key === " ") letGo();
  else if (event.key in KEYS) hold(KEYS[event.key]());
  else return;
  event.preventDefault();
});

document.addEventListener("focusin", (event) => {
  if (event.target.matches?.(".pick")) event.target.setAttribute("aria-describedby", hint.id);
});

/* By pointer. A finger scrolls: for it there are the menus. */

document.addEventListener("pointerdown", (event) => {
  const pick = event.target.closest(".pick");
  if (pick === null || event.button !== 0 || event.pointerType === "touch" || held !== undefined) return;
  press = { pick, x: event.clientX, y: event.clientY };
});

document.addEventListener("pointermove", (event) => {
  if (press === undefined) return;
  if (held === undefined) {
    if (Math.hypot(event.clientX - press.x, event.clientY - press.y) < DRAG_FROM_PX) return;
    pickUp(press.pick, true);
    if (held === undefined) {
      press = undefined;
      return;
    }
    getSelection()?.removeAllRanges();
    document.body.classList.add("is-carrying");
    addCrewChips();
    press.ghost = Object.assign(document.createElement("div"), { className: "ghost", textContent: held.menu.querySelector(".move-what").textContent.trim() });
    press.ghost.setAttribute("aria-hidden", "true");
    document.body.append(press.ghost);
  }
  event.preventDefault();
  press.ghost.style.transform = `translate(${event.clientX + 12}px, ${event.clientY + 12}px)`;
  const over = findTarget(event.clientX, event.clientY);
  if (over !== undefined) hold(over);
});

document.addEventListener("pointerup", (event) => {
  if (press?.ghost === undefined) {
    press = undefined;
    return;
  }
  press.ghost.remove();
  press = undefined;
  if (held === undefined) return;
  // The click that follows would go to the menu.
  document.addEventListener("click", (click) => click.preventDefault(), { capture: true, once: true });
  setTimeout(() => document.body.classList.remove("is-carrying"), 0);
  if (findTarget(event.clientX, event.clientY) === undefined) leave();
  else letGo();
});

document.addEventListener("pointercancel", () => {
  press?.ghost?.remove();
  press = undefined;
  if (held?.isByPointer) leave();
});

/** Crews that can do it and have no pole on this board. */
function addCrewChips() {
  const strip = document.querySelector(".day-strip");
  for (const { id, name } of held.crews) {
    if (poleOf(id) !== null) continue;
    const chip = Object.assign(document.createElement("li"), { className: "crew-chip" });
    chip.dataset.dropCrew = id;
    chip.append(Object.assign(document.createElement("span"), { textContent: `${name}, not called out` }));
    strip.append(chip);
  }
}

function findTarget(x, y) {
  const element = document.elementFromPoint(x, y);
  const chip = element?.closest("[data-drop-crew]");
  if (chip) return { crew: chip.dataset.dropCrew, date: boardDate(), place: "first" };
  const day = element?.closest(".day-strip [data-date]");
  if (day) return { crew: held.menu.dataset.crew, date: day.dataset.date, place: "first" };
  const pole = element?.closest(".pole");
  if (!pole) return undefined;
  const crew = pole.dataset.crew;
  const above = othersOn(crew).filter((tag) => {
    const { top, height } = tag.querySelector(".words").getBoundingClientRect();
    return top + height / 2 < y;
  });
  const places = placesOn(crew, boardDate());
  return { crew, date: boardDate(), place: places[Math.min(above.length, places.length - 1)] };
}

/* A click leads to the menu, opened. */
document.addEventListener("click", (event) => {
  const pick = event.target.closest(".pick");
  if (pick === null || event.defaultPrevented) return;
  const details = document.querySelector(`${pick.getAttribute("href")} details`);
  if (details === null) return;
  event.preventDefault();
  details.open = true;
  const summary = details.querySelector("summary");
  summary.scrollIntoView({ block: "center" });
  summary.focus({ preventScroll: true });
});
