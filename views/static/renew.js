/*
 * Puts a page as it is now in the place of the page that is open, touching only what differs: what is the same keeps its
 * place, its scroll position, its focus and whether it is unfolded.
 */

/** Whether somebody is in the middle of something on the page: typing, a form that is not as it came, a block picked up. */
export function isBusy() {
  const main = document.querySelector("main");
  if (document.documentElement.dataset.busy !== undefined) return true;
  const active = document.activeElement;
  if (main.contains(active) && active.matches("input, select, textarea, [contenteditable]")) return true;
  return [...main.querySelectorAll("input, select, textarea")].some(hasChanged);
}

function hasChanged(field) {
  if (field.type === "hidden" || field.type === "submit") return false;
  if (field.type === "checkbox" || field.type === "radio") return field.checked !== field.defaultChecked;
  if (field.tagName !== "SELECT") return field.value !== field.defaultValue;
  const options = [...field.options];
  // Where no option is marked, a browser chooses the first one.
  const asItCame = options.some((option) => option.defaultSelected)
    ? options.filter((option) => option.defaultSelected)
    : options.slice(0, 1);
  return options.some((option) => option.selected !== asItCame.includes(option));
}

/** They have nothing in them that HTML would escape. */
const OWN_RULES = /<style>([^<]*)<\/style>/;

/** Shows the page that the text is; whether anything on it differs from what was shown. */
export function showPage(html) {
  // Taken out as text: even a document that is never shown must not have a style element that the policy does not name.
  const rules = OWN_RULES.exec(html)?.[1] ?? "";
  const page = new DOMParser().parseFromString(html.replace(OWN_RULES, ""), "text/html");
  const [main, next] = [document.querySelector("main"), page.querySelector("main")];
  const before = main.innerHTML;
  const focused = document.activeElement;
  const focusKey = main.contains(focused) ? keyAround(focused) : undefined;
  takeRules(rules);
  document.title = page.title;
  updateMasthead(page);
  updateElement(main, next);
  if (focusKey !== undefined && document.activeElement !== focused) focusAgain(main, focusKey);
  return main.innerHTML !== before;
}

/** Shows no more of the page than what the masthead counts, as of which stamp. */
export function showCounts(html) {
  const page = new DOMParser().parseFromString(html.replace(OWN_RULES, ""), "text/html");
  updateMasthead(page);
  document.querySelector("main").dataset.reports = page.querySelector("main").dataset.reports;
}

function updateMasthead(page) {
  const [old, next] = [document, page].map((one) => one.querySelector(".masthead nav"));
  if (old !== null && next !== null) updateElement(old, next);
}

/** The rules of the page's own style element. The content policy names that element by its hash; a sheet made here needs none. */
function takeRules(rules) {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(rules);
  document.adoptedStyleSheets = [sheet];
  document.querySelector("head > style")?.remove();
}

/** What a person has done to an element, and not the page. */
const OF_THE_READER = { DETAILS: ["open"] };

function updateElement(old, next) {
  for (const name of old.getAttributeNames()) {
    if (!next.hasAttribute(name) && !(OF_THE_READER[old.tagName] ?? []).includes(name)) old.removeAttribute(name);
  }
  for (const { name, value } of next.attributes) {
    if (old.getAttribute(name) !== value && !(OF_THE_READER[old.tagName] ?? []).includes(name)) old.setAttribute(name, value);
  }
  updateChildren(old, next);
}

function updateChildren(parent, nextParent) {
  const keyed = new Map([...parent.children].flatMap((child) => (keyOf(child) === "" ? [] : [[keyOf(child), child]])));
  const wanted = new Set([...nextParent.children].map(keyOf));
  let place = parent.firstChild;
  for (const next of nextParent.childNodes) {
    const key = keyOf(next);
    // What has no counterpart any more makes way, so that what comes after it is met as itself.
    while (place !== null && keyOf(place) !== "" && !wanted.has(keyOf(place))) place = removeAndStep(place);
    const same = key === "" ? (isAlike(place, next) ? place : null) : alikeOrNull(keyed.get(key), next);
    if (same === null) {
      parent.insertBefore(document.importNode(next, true), place);
      continue;
    }
    if (same === place) place = place.nextSibling;
    else parent.insertBefore(same, place);
    if (same.nodeType === Node.ELEMENT_NODE) updateElement(same, next);
    else if (same.nodeValue !== next.nodeValue) same.nodeValue = next.nodeValue;
  }
  while (place !== null) place = removeAndStep(place);
}

function removeAndStep(node) {
  const after = node.nextSibling;
  node.remove();
  return after;
}

function alikeOrNull(node, next) {
  return node !== undefined && node.nodeName === next.nodeName ? node : null;
}

function isAlike(node, next) {
  return node !== null && node.nodeName === next.nodeName && keyOf(node) === "";
}

/** By what an element is known from one page to the next; empty where only its place tells. */
function keyOf(node) {
  return node.nodeType === Node.ELEMENT_NODE ? (node.dataset.key ?? node.id) : "";
}

/** Where the focus was: the nearest thing with a name of its own, and which of the things in it that take the focus. */
function keyAround(element) {
  const named = element.closest("[data-key], [id]");
  const place = [...named.querySelectorAll(FOCUSABLE)].indexOf(element);
  return { key: keyOf(named), place };
}

const FOCUSABLE = "a[href], button, input, select, textarea, summary, [tabindex]";

function focusAgain(main, { key, place }) {
  const named = [main, ...main.querySelectorAll("[data-key], [id]")].find((element) => keyOf(element) === key);
  const target = place < 0 ? named : [...(named?.querySelectorAll(FOCUSABLE) ?? [])][place];
  target?.focus({ preventScroll: true });
}
