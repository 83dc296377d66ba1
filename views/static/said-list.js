/*
 * Shows what this phone has kept of what its crew said: how much the office does not have yet, each in its words with its
 * state, and for a while what the office has taken.
 */
import { changeSaid, listSaid, removeSaid } from "./said-store.js";

const TAKEN_LASTS_MS = 30_000;

/**
 * @param {HTMLElement} box the element of views/partials/offline.ejs
 * @param {Readonly<Record<string, string>>} words of src/board/offline-words.ts
 * @param {{ send: () => void, tell: (sentence: string) => void }} acts tries to send again; says what has just become of it
 * @returns {() => Promise<void>} shows the list as it is now
 */
export function makeSaidList(box, words, { send, tell }) {
  let before = [];
  let taken = [];
  const takenBack = new Set();

  async function show() {
    const said = (await listSaid()).filter(({ crew }) => crew === box.dataset.crew);
    const gone = before.filter(({ number }) => !takenBack.has(number) && !said.some((entry) => entry.number === number));
    before = said;
    if (gone.length > 0) {
      taken = [...taken, ...gone];
      tell(`${gone.map(({ about }) => about).join("; ")}. ${words.taken}`);
      setTimeout(() => {
        taken = taken.filter((entry) => !gone.includes(entry));
        render();
      }, TAKEN_LASTS_MS);
    }
    render();
  }

  function render() {
    const open = words.notWithOffice.replace("{n}", String(before.length));
    const heading = make("h2", before.length === 0 ? words.allTaken : open);
    const entries = [...before, ...taken.map((entry) => ({ ...entry, state: "taken" }))].map(renderEntry);
    const list = make("ul");
    list.append(...entries);
    const hint = before.some(({ state }) => state === "waiting") ? [make("p", words.hint)] : [];
    box.querySelector(".said").replaceChildren(...(entries.length === 0 ? [] : [heading, list, ...hint]));
  }

  function renderEntry(entry) {
    const line = make("li");
    line.className = `said-${entry.state}`;
    line.append(make("strong", entry.about), ` (${clockOf(entry.saidAt)}) `);
    const sentence = entry.state === "refused" && entry.sentence !== "" ? entry.sentence : words[entry.state];
    line.append(Object.assign(make("span", sentence), { className: "said-state" }));
    if (entry.state === "refused") {
      const again = () => changeSaid(entry.number, { state: "waiting", sentence: "" }).then(send);
      line.append(makeButton(words.takeBack, () => takeBack(entry)), makeButton(words.again, again));
    }
    return line;
  }

  /** With its photos: without what they belong to, the office could not tell what they show. */
  async function takeBack({ key, number }) {
    const photos = before.filter(({ fields }) => fields.report === key);
    const numbers = [number, ...photos.map((photo) => photo.number)];
    for (const each of numbers) takenBack.add(each);
    await removeSaid(numbers);
  }

  let showing = Promise.resolve();
  return () => {
    // One after another; what cannot be read now is shown the next time.
    showing = showing.then(show).catch(() => undefined);
    return showing;
  };
}

/** @param {number} time milliseconds since 1970 */
export function clockOf(time) {
  const locale = document.documentElement.lang === "es" ? "es-US" : "en-US";
  const day = new Date(time).toDateString() === new Date().toDateString() ? {} : { weekday: "short" };
  const written = new Date(time).toLocaleString(locale, { ...day, hour: "numeric", minute: "2-digit" });
  return written.replaceAll(/[\u202f ]/g, "\u00a0").replace(/[AP]M/, (half) => half.toLowerCase());
}

function make(tag, text = "") {
  return Object.assign(document.createElement(tag), { textContent: text });
}

function makeButton(text, act) {
  const button = Object.assign(make("button", text), { type: "button" });
  button.addEventListener("click", act);
  return button;
}
