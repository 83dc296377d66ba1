/**
 * Which passwords are taken. Long ones, and none that are tried first: common ones, one piece over and over, a walk along
 * the keyboard, the person's own names. What characters they are made of is nobody's business.
 * Lengths after OWASP ASVS 4.0.3, 2.1.1 and 2.1.2.
 */
import { countCharacters } from "../../domain/person.js";
import { PRODUCT_NAME } from "../../domain/product.js";

export const SHORTEST_PASSWORD = 12;
export const LONGEST_PASSWORD = 128;
/** How much must be left of a password when the person's own names are taken out. */
const LEAST_WITHOUT_NAMES = 8;
const SHORTEST_NAME = 3;

/** The sentence for a password that is not taken, or undefined. `names`: account and name of whoever sets it. */
export function findPasswordFault(password: string, names: readonly string[]): string | undefined {
  const written = password.normalize("NFKC");
  // Many spaces in a row count as one, so that they do not make a password long.
  if (countCharacters(written.replaceAll(/\s+/gu, " ")) < SHORTEST_PASSWORD) {
    return `The password needs at least ${SHORTEST_PASSWORD} characters. Three or four words that do not belong together are easy to keep in mind.`;
  }
  if (countCharacters(written) > LONGEST_PASSWORD) {
    return `The password has more than ${LONGEST_PASSWORD} characters. Take a shorter one.`;
  }
  const folded = written.toLowerCase();
  if (COMMON.has(folded) || isOnePieceRepeated(folded) || isWalk(folded)) {
    return "This password is one of those that are tried first. Take words that do not belong together.";
  }
  if (isMostlyNames(folded, names)) {
    return "This password is little more than a name that others know. Take words that do not belong together.";
  }
  return undefined;
}

/** "abcabcabcabc", "aaaaaaaaaaaa", and the same with a few characters behind. */
function isOnePieceRepeated(text: string): boolean {
  return /^(.{1,10}?)\1{2,}.{0,3}$/su.test(text) || /^(.{6,})\1$/su.test(text);
}

const ROWS = [
  "012345678901234567890",
  "abcdefghijklmnopqrstuvwxyz",
  "qwertyuiop",
  "asdfghjkl",
  "zxcvbnm",
  "qwertzuiop",
  "azertyuiop",
  "1qaz2wsx3edc4rfv5tgb6yhn7ujm8ik9ol0p",
  "q1w2e3r4t5y6u7i8o9p0",
  "1q2w3e4r5t6y7u8i9o0p",
];
const WALKS = [...ROWS, ...ROWS.map((row) => row.split("").toReversed().join(""))];
const SHORTEST_WALK = 3;
const MOST_BESIDE_WALKS = 4;

/** Nothing but runs along a row of keys, the digits or the alphabet, and a few characters between them. */
function isWalk(text: string): boolean {
  let beside = 0;
  for (let at = 0; at < text.length;) {
    const length = longestWalkAt(text, at);
    if (length >= SHORTEST_WALK) at += length;
    else {
      at += 1;
      beside += 1;
    }
  }
  return beside <= MOST_BESIDE_WALKS;
}

function longestWalkAt(text: string, at: number): number {
  let length = 0;
  while (at + length < text.length) {
    const run = text.slice(at, at + length + 1);
    if (!WALKS.some((row) => row.includes(run))) break;
    length += 1;
  }
  return length;
}

function isMostlyNames(text: string, names: readonly string[]): boolean {
  const words = [PRODUCT_NAME, ...names]
    .map((name) => name.normalize("NFKC").toLowerCase())
    .flatMap((name) => [name, ...name.split(/[\s@.]+/u)])
    .filter((word) => word.length >= SHORTEST_NAME)
    .toSorted((one, other) => other.length - one.length);
  const rest = words.reduce((left, word) => left.replaceAll(word, ""), text);
  return rest !== text && countCharacters(rest) < LEAST_WITHOUT_NAMES;
}

/** Common passwords of 12 and more characters that the rules above let through. From memory, not from a published list. */
const COMMON: ReadonlySet<string> = new Set([
  "passwordpassword",
  "password1234",
  "password12345",
  "password123456",
  "password123!",
  "password2024",
  "password2025",
  "password2026",
  "passw0rd1234",
  "p@ssw0rd1234",
  "p@ssword1234",
  "mypassword123",
  "mypassword1234",
  "changeme1234",
  "changemenow!",
  "letmein12345",
  "letmeinletmein",
  "welcome12345",
  "welcome123456",
  "welcome1234!",
  "administrator",
  "administrator1",
  "admin1234567",
  "adminadmin123",
  "iloveyou1234",
  "iloveyou12345",
  "iloveyouforever",
  "iloveyousomuch",
  "ihavenopassword",
  "nopassword123",
  "trustno1trustno1",
  "unbelievable",
  "correcthorsebatterystaple",
  "correct horse battery staple",
  "monkey123456",
  "dragon123456",
  "football1234",
  "baseball1234",
  "basketball12",
  "sunshine1234",
  "princess1234",
  "superman1234",
  "starwars1234",
  "michael12345",
  "master123456",
  "computer1234",
  "internet1234",
  "christopher1",
  "jesuschrist1",
  "whatever1234",
  "summer123456",
  "winter123456",
  "spring123456",
  "autumn123456",
  "qwerty123456",
  "qwertyqwerty",
  "testtesttest",
  "test12345678",
  "abc123abc123",
  "contractor123",
  "construction1",
  "myhouse12345",
]);
