/**
 * Random tokens: who holds one may come in. The house keeps only a hash of it. A fast hash is enough, for 256 random
 * bits cannot be guessed through.
 */
import { createHash, randomBytes } from "node:crypto";

const TOKEN = /^[\w-]{43}$/;

/** 32 random bytes as base64url: 43 characters. */
export function makeToken(): string {
  return randomBytes(32).toString("base64url");
}

/** SHA-256 as base64url; undefined for what cannot be a token, so that nothing is asked of the database. */
export function findTokenHash(token: string): string | undefined {
  return TOKEN.test(token) ? hashOf(token) : undefined;
}

/** SHA-256 as base64url. */
export function hashOf(text: string): string {
  return createHash("sha256").update(text).digest("base64url");
}
