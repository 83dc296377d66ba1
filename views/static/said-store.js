/*
 * What a crew has said and the office has not taken yet: one list for all crews of this phone, in the order of saying, in
 * the browser's own database. What is in it outlives the page, the browser and an empty battery.
 */
import { openDB } from "./idb/index.js";

/**
 * @typedef {object} Said
 * @property {number} number the order of saying
 * @property {"report" | "photo"} kind
 * @property {string} key by which the server knows a report or photo that has come before
 * @property {string} crew its id
 * @property {string} address where it is sent to
 * @property {Readonly<Record<string, string>>} fields as the form has them
 * @property {Blob | null} photo
 * @property {string} about in words, in the language in which it was said
 * @property {number} saidAt milliseconds since 1970
 * @property {"waiting" | "closed" | "refused"} state closed: the link opens nothing any more
 * @property {string} sentence why it is not waiting; empty where it is, or where nobody said
 * @property {number} failures how often the office could not take it for a fault of its own
 */

const DATABASE = "daylap-said";
const LIST = "said";
/** Where every page hears of each change of the list, also of its own: what tells is a channel apart. */
export const news = new BroadcastChannel("daylap-said");
const teller = new BroadcastChannel("daylap-said");
/** Written through to the disk before it is called kept: relaxed would lose it with the power. */
const FOR_GOOD = { durability: "strict" };

/** Opened when first needed, and again where the browser has taken it away. */
let opening;
function open() {
  opening ??= openDB(DATABASE, 1, {
    upgrade: (database) => void database.createObjectStore(LIST, { keyPath: "number", autoIncrement: true }),
    blocking: forget,
    terminated: forget,
  }).catch((error) => {
    opening = undefined;
    throw error;
  });
  return opening;
}

function forget() {
  opening?.then((database) => database.close());
  opening = undefined;
}

/** In the order of saying. @returns {Promise<readonly Said[]>} */
export async function listSaid() {
  return (await open()).getAll(LIST);
}

/** All of them or none. @param {readonly Omit<Said, "number">[]} entries */
export function keepSaid(entries) {
  return change((list) => Promise.all(entries.map((entry) => list.add(entry))));
}

/** @param {readonly number[]} numbers taken by the office, or taken back */
export function removeSaid(numbers) {
  return change((list) => Promise.all(numbers.map((number) => list.delete(number))));
}

/** Nothing, where it has been removed meanwhile. @param {number} number @param {Partial<Said>} differs */
export function changeSaid(number, differs) {
  return change(async (list) => {
    const entry = await list.get(number);
    if (entry !== undefined) await list.put({ ...entry, ...differs });
  });
}

async function change(write) {
  const transaction = (await open()).transaction(LIST, "readwrite", FOR_GOOD);
  await Promise.all([write(transaction.store), transaction.done]);
  teller.postMessage("changed");
}
