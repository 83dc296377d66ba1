/**
 * People who sign in: their roles, and what a name and an account may be.
 * A crew lead is no such person: her crew has a link.
 */
import { fail, ok, type Result } from "./result.js";

export const ROLES = ["owner", "dispatcher", "viewer"] as const;

/** Owner: everything. Dispatcher: everything about the plan and the crews' links. Viewer: reads. */
export type Role = (typeof ROLES)[number];

export interface Person {
  readonly id: number;
  readonly name: string;
  /** E-mail address or short name, as it was written. */
  readonly account: string;
  readonly role: Role;
  /** Counts up with each change to this person. */
  readonly version: number;
  /** False as long as an invitation has not been answered. */
  readonly hasPassword: boolean;
  readonly isDisabled: boolean;
}

const LONGEST_NAME = 80;
const LONGEST_ACCOUNT = 120;
/** Control characters, line ends, marks that turn the direction of writing. */
const UNWRITTEN = /[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/u;

export function parseRole(text: string): Role | undefined {
  return ROLES.find((role) => role === text);
}

/** The name without spaces around it and doubled ones within. */
export function parsePersonName(text: string): Result<string, string> {
  const name = text.normalize("NFC").trim().replaceAll(/ {2,}/g, " ");
  if (name === "") return fail("Write the person's name.");
  if (countCharacters(name) > LONGEST_NAME) return fail(`The name has more than ${LONGEST_NAME} characters.`);
  if (UNWRITTEN.test(name)) return fail("The name holds a character that cannot be written, such as a tab.");
  return ok(name);
}

/** An account's name: one word, or an e-mail address. */
export function parseAccount(text: string): Result<string, string> {
  const account = text.normalize("NFC").trim();
  const length = countCharacters(account);
  if (length === 0) return fail("Write an account name: an e-mail address or a short name.");
  if (length < 2) return fail("The account name needs at least 2 characters.");
  if (length > LONGEST_ACCOUNT) return fail(`The account name has more than ${LONGEST_ACCOUNT} characters.`);
  if (/\s/u.test(account) || UNWRITTEN.test(account)) {
    return fail("The account name holds a space. Write it as one word, such as an e-mail address.");
  }
  return ok(account);
}

/** Equal for accounts that count as the same one: letters large or small, wide or narrow. Takes any text at all. */
export function toAccountKey(account: string): string {
  return account
    .normalize("NFKC")
    .replaceAll(/\p{Cc}/gu, "")
    .trim()
    .toLowerCase();
}

/** Code points: what a person takes for one character is one or more of them. */
export function countCharacters(text: string): number {
  return Array.from(text).length;
}

/** Who does something: a person, or (null) the command line, the demo, the program itself. */
export interface Actor {
  readonly personId: number | null;
  /** As the record names her. */
  readonly personName: string;
}
