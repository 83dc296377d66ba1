/**
 * Slows down whoever guesses: by account, so that many machines cannot guess one password, and by network address, so
 * that one machine cannot go through many accounts. After a few free failures each one doubles the wait, up to a limit:
 * nobody can lock another person out for good. Beyond the wait nothing is told apart: an account that does not exist is
 * slowed down like one that does.
 */
import type { Queries } from "../../store/database.js";
import {
  countTry,
  deleteOldTries,
  forgetTries,
  takeBackTry,
  type Throttle,
} from "../../store/sign-in-attempt-store.js";
import { hashOf } from "../token.js";
import { DAY_MS, momentOf } from "./house.js";

const BY_ACCOUNT = {
  scope: "account",
  freeFailures: 5,
  firstWaitSeconds: 30,
  longestWaitSeconds: 15 * 60,
} as const satisfies Throttle;

const BY_ADDRESS = {
  scope: "address",
  freeFailures: 20,
  firstWaitSeconds: 30,
  longestWaitSeconds: 60 * 60,
} as const satisfies Throttle;

const FORGOTTEN_MS = DAY_MS;

/** Whom a try is counted for. */
export interface TryKeys {
  readonly account: string;
  readonly address: string;
}

/** Of a folded account name and a network address. */
export function toTryKeys(accountKey: string, address: string): TryKeys {
  // With a prefix, so that the hash is of no use elsewhere: a password may have been typed into this field.
  return { account: hashOf(`account ${accountKey}`), address: toAddressKey(address) };
}

/** Counts a try as failed. Gives the moment (ms) before which no try is looked at, or undefined where this one is. */
export async function beginTry(queries: Queries, keys: TryKeys, nowMs: number): Promise<number | undefined> {
  const times = { now: momentOf(nowMs), forgottenBefore: momentOf(nowMs - FORGOTTEN_MS) };
  for (const throttle of [BY_ADDRESS, BY_ACCOUNT]) {
    const freeAt = await countTry(queries, throttle, { key: keys[throttle.scope], ...times });
    if (freeAt !== undefined) return freeAt.getTime();
  }
  return undefined;
}

/** The try was no failure after all. */
export async function settleTry(queries: Queries, keys: TryKeys, nowMs: number): Promise<void> {
  await forgetTries(queries, "account", keys.account);
  await takeBackTry(queries, "address", keys.address, momentOf(nowMs));
  await deleteOldTries(queries, momentOf(nowMs - FORGOTTEN_MS));
}

/** Nothing stands against the account any more: its password has been set anew. */
export async function forgiveAccount(queries: Queries, accountKey: string): Promise<void> {
  await forgetTries(queries, "account", toTryKeys(accountKey, "").account);
}

/**
 * What is counted as one address: of IPv6 the first 64 bits, for a household or a server has all the rest to choose from;
 * of IPv4 all of it, also where it comes written as IPv6.
 */
export function toAddressKey(address: string): string {
  const [plain = ""] = address.toLowerCase().split("%");
  const v4 = /^::ffff:(\d{1,3}(?:\.\d{1,3}){3})$/.exec(plain)?.[1];
  if (v4 !== undefined || !plain.includes(":")) return v4 ?? plain;
  const [head = "", tail] = plain.split("::");
  const front = head === "" ? [] : head.split(":");
  const back = tail === undefined || tail === "" ? [] : tail.split(":");
  const gap = tail === undefined ? 0 : Math.max(0, 8 - front.length - back.length);
  const groups = [...front, ...Array.from({ length: gap }, () => "0"), ...back];
  return `${groups
    .slice(0, 4)
    .map((group) => group.replace(/^0+(?=.)/, ""))
    .join(":")}::/64`;
}
