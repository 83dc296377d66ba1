/**
 * Where somebody goes after signing in. The address comes back from outside, so that it may be anything: only a page of
 * this app is gone to.
 */
import { findAccess } from "./access.js";
import { paths } from "./paths.js";

const LONGEST = 500;
/** One slash, then neither another one nor a backslash, which browsers take for one. */
const PATH = /^\/(?![/\\])[\x21-\x5b\x5d-\x7e]*$/;

/** The path itself where it is one of a page of this app; the home page otherwise. */
export function toNextPage(text: unknown): string {
  if (typeof text !== "string" || text.length > LONGEST || !(text === "/" || PATH.test(text))) {
    return paths.home();
  }
  const [path = ""] = text.split(/[?#]/);
  const isPage = findAccess("GET", path).some(({ row }) => !row.may.includes("nobody"));
  return isPage ? text : paths.home();
}
