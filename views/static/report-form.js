/*
 * Takes over the forms by which a crew reports: what is said is kept on the phone first and sent from there, so that it
 * does not matter whether there is signal. Where the phone cannot keep it the form is sent as it would be without script.
 */
import { box, sendKept, tell, words } from "./offline.js";
import { MOST_BYTES, scalePhoto } from "./photo-scaling.js";
import { clockOf } from "./said-list.js";
import { keepSaid } from "./said-store.js";

/** What the server takes; a camera that makes something else then hands over one of these. */
const ACCEPTED = "image/jpeg,image/png,image/webp";
/** Nobody means the same twice within this time: a thumb with a glove on has touched the button again. */
const TWICE_MS = 1500;
/** What each form has said last, and says now that it is empty again. @type {WeakMap<HTMLFormElement, { texts: string[], at: number }>} */
const lastSaid = new WeakMap();

const { crew, reports, photos } = box.dataset;
const isOurs = ({ action, method }) => method === "post" && [reports, photos].includes(new URL(action).pathname);

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!isOurs(form)) return;
  event.preventDefault();
  say(form, event.submitter).catch(() => sendPlainly(form, event.submitter));
});

async function say(form, submitter) {
  const path = new URL(form.action).pathname;
  const given = dataOf(form, submitter);
  const text = textOf(given);
  const last = lastSaid.get(form);
  if (last?.texts.includes(text) && Date.now() - last.at < TWICE_MS) return;
  lastSaid.set(form, { texts: [text], at: Date.now() });
  const files = [...given.values()].filter((value) => value instanceof File && value.size > 0);
  const fields = Object.fromEntries([...given].filter(([, value]) => typeof value === "string"));
  const said = { crew, saidAt: Date.now(), about: aboutOf(form, submitter), state: "waiting", sentence: "", failures: 0 };
  const key = makeKey();
  const report = {
    ...said,
    kind: "report",
    key,
    address: reports,
    fields: { ...fields, key, saidAt: new Date(said.saidAt).toISOString() },
    photo: null,
  };
  const taken = await Promise.all(files.map(async (file) => ({ file, photo: await scalePhoto(file) })));
  const tooBig = taken.find(({ photo }) => photo.size > MOST_BYTES);
  if (tooBig !== undefined) return complain(form, words.photoTooBig.replace("{name}", tooBig.file.name));
  const isReport = path === reports;
  const pictures = taken.map(({ file, photo }) => makePicture(said, file, photo, fields, isReport ? key : fields.report));
  const entries = isReport ? [report, ...pictures] : pictures;
  // A form for a photo without one: the office says what is missing.
  if (entries.length === 0) return sendPlainly(form, submitter);
  await keepSaid(entries);
  form.querySelector(".said-note")?.remove();
  tell(words.kept.replace("{time}", clockOf(said.saidAt)));
  form.reset();
  // It is said: what comes next is another task's, or the pocket.
  form.closest("details")?.removeAttribute("open");
  lastSaid.set(form, { texts: [text, textOf(dataOf(form, submitter))], at: Date.now() });
  if (form.contains(document.activeElement)) document.activeElement.blur();
  document.dispatchEvent(new CustomEvent("page-free"));
  // Asked once there is something to lose; browsers that ask people about it are few.
  navigator.storage?.persist?.().catch(() => undefined);
  sendKept();
}

function makePicture(said, file, photo, { job, task, lang }, report) {
  const key = makeKey();
  const takenAt = new Date(file.lastModified).toISOString();
  const known = Object.entries({ key, report, job, task, takenAt, lang }).filter(([, value]) => value);
  const about = words.photoOf.replace("{about}", said.about);
  return { ...said, kind: "photo", key, address: photos, fields: Object.fromEntries(known), photo, about };
}

function complain(form, sentence) {
  form.querySelector(".said-note")?.remove();
  const line = Object.assign(document.createElement("p"), { className: "said-note", textContent: sentence });
  line.setAttribute("role", "alert");
  form.append(line);
}

/** The form of damage takes photos at once, which only script can keep together with it. */
function offerPhotos() {
  for (const form of document.querySelectorAll("form")) {
    const kind = form.elements.namedItem("kind");
    if (kind?.value !== "damage" || !isOurs(form) || form.querySelector(".said-photos") !== null) continue;
    const label = Object.assign(document.createElement("label"), { className: "said-photos", textContent: words.photos });
    const input = Object.assign(document.createElement("input"), { type: "file", name: "photo", accept: ACCEPTED, multiple: true });
    label.append(input);
    form.querySelector("button").before(label);
    // That photos come afterwards is so without script.
    form.querySelector("[data-without-script]")?.setAttribute("hidden", "");
  }
}
offerPhotos();
document.addEventListener("page-renewed", offerPhotos);

/** A copy of the page for photos does not know which report and which task its address names. */
function fillPhotoForm() {
  const form = document.querySelector(".offline.is-copy + main .photo-form");
  const asked = new URLSearchParams(location.search);
  if (form === null) return;
  if (asked.has("report")) form.append(Object.assign(document.createElement("input"), { type: "hidden", name: "report", value: asked.get("report") }));
  const about = [asked.get("job"), asked.get("task")].filter(Boolean).join("/");
  for (const option of form.elements.job.options ?? []) option.defaultSelected ||= option.value === about;
}
fillPhotoForm();

/** With the button that was pressed. */
function dataOf(form, submitter) {
  const given = new FormData(form);
  if (submitter?.name) given.append(submitter.name, submitter.value);
  return given;
}

/** All that is said, as one text. */
function textOf(given) {
  const named = [...given].map(([name, value]) => [name, value instanceof File ? [value.name, value.size] : value]);
  return JSON.stringify(named.filter(([name]) => name !== "key"));
}

/** What the form says of itself, and what was entered or chosen in it. */
function aboutOf(form, submitter) {
  const entered = [...form.elements].flatMap((field) => {
    if (!field.matches("input:not([type=hidden], [type=file], [type=radio]:not(:checked)), select, textarea")) return [];
    if (field.type === "checkbox" && !field.checked) return [];
    const chosen = field.tagName === "SELECT" ? field.selectedOptions[0]?.textContent : undefined;
    const labelled = field.type === "radio" || field.type === "checkbox" ? field.labels?.[0]?.textContent : undefined;
    const text = (chosen ?? labelled ?? field.value).trim();
    return text === "" ? [] : [text];
  });
  // What a photo is of is chosen in its form, in full words.
  if (form.enctype === "multipart/form-data" && entered.length > 0) return entered.join(" · ");
  // What stands small beside a choice says it in other words.
  const pressed = (submitter?.querySelector("strong") ?? submitter)?.textContent?.trim() ?? "";
  const chosen = submitter?.name && form.dataset.about !== undefined ? [pressed] : [];
  return [form.dataset.about ?? pressed, ...chosen, ...entered].join(" · ");
}

function sendPlainly(form, submitter) {
  if (submitter?.name) {
    const { name, value } = submitter;
    form.append(Object.assign(document.createElement("input"), { type: "hidden", name, value }));
  }
  form.submit();
}

/** A random UUID, also where the page did not come over TLS and the browser makes none. */
function makeKey() {
  if (crypto.randomUUID !== undefined) return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
}
