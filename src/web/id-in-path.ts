/** Ids out of an address: whatever could be no id of a company file is not found, and asked of nobody. */
import { HttpRefusal } from "./http-refusal.js";

/** The id, where it can be one. */
export function idIn(text: string): string {
  if (/^[A-Za-z0-9][A-Za-z0-9_.-]{0,63}$/.test(text)) return text;
  throw new HttpRefusal(404, "There is nothing at this address. Open the page again, and go on from there.");
}
