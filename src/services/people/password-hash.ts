/**
 * Passwords as slow hashes: scrypt (RFC 7914) of node:crypto. The parameters stand in the hash, so that they can be raised
 * later and an old hash is still read. Where there is no hash to compare with, the same work is done all the same: how
 * long an answer takes does not tell whether an account exists.
 */
import { randomBytes, scrypt, timingSafeEqual, type ScryptOptions } from "node:crypto";
import { invariant } from "../../domain/result.js";

/** What one hash costs: 128 · n · r bytes of memory, and work in proportion to n · r · p. */
export interface PasswordCost {
  /** A power of two. */
  readonly n: number;
  readonly r: number;
  readonly p: number;
}

/**
 * One of the settings that the OWASP Password Storage Cheat Sheet lists as equal minimum (N = 2^17, r = 8, p = 1 and those
 * that trade memory for work; this one from memory): 32 MiB for each hash.
 */
export const USUAL_COST: PasswordCost = { n: 2 ** 15, r: 8, p: 3 };

const HASH_BYTES = 32;
const SALT_BYTES = 16;
const HASH_TEXT = /^scrypt\$n=(\d{1,9}),r=(\d{1,4}),p=(\d{1,4})\$([\w-]+)\$([\w-]+)$/;

export interface PasswordHashing {
  hash(password: string): Promise<string>;
  /** False, after the same work, where there is no hash. */
  matches(password: string, hash: string | undefined): Promise<boolean>;
  /** Whether the hash was made at another cost than new ones are. */
  isOutdated(hash: string): boolean;
}

/** Hashing at a cost. */
export function makePasswordHashing(cost: PasswordCost = USUAL_COST): PasswordHashing {
  // Compared with where there is no hash; no password has this one.
  const decoy = { cost, salt: randomBytes(SALT_BYTES), digest: randomBytes(HASH_BYTES) };
  return {
    async hash(password) {
      const salt = randomBytes(SALT_BYTES);
      const digest = await digestOf(password, salt, cost);
      return `scrypt$${parametersOf(cost)}$${salt.toString("base64url")}$${digest.toString("base64url")}`;
    },
    async matches(password, hash) {
      const known = hash === undefined ? decoy : readHash(hash);
      const isEqual = timingSafeEqual(await digestOf(password, known.salt, known.cost), known.digest);
      return isEqual && hash !== undefined;
    },
    isOutdated: (hash) => !hash.startsWith(`scrypt$${parametersOf(cost)}$`),
  };
}

const parametersOf = ({ n, r, p }: PasswordCost): string => `n=${n},r=${r},p=${p}`;

function readHash(hash: string): { cost: PasswordCost; salt: Buffer; digest: Buffer } {
  const match = HASH_TEXT.exec(hash);
  invariant(match !== null, "a stored password hash is written as this house writes it");
  const [, n, r, p, salt = "", digest = ""] = match;
  return {
    cost: { n: Number(n), r: Number(r), p: Number(p) },
    salt: Buffer.from(salt, "base64url"),
    digest: Buffer.from(digest, "base64url"),
  };
}

/** Two ways to write the same character are one password (NFKC), for keyboards differ in which one they send. */
function digestOf(password: string, salt: Buffer, { n, r, p }: PasswordCost): Promise<Buffer> {
  // Node's own limit of 32 MiB is a little below what these parameters take.
  const options: ScryptOptions = { N: n, r, p, maxmem: 128 * n * r * 2 };
  return new Promise((resolve, reject) => {
    scrypt(password.normalize("NFKC"), salt, HASH_BYTES, options, (error, digest) => {
      if (error === null) resolve(digest);
      else reject(error);
    });
  });
}
