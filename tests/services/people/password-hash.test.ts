/** Hashes of passwords: what they hide, what they keep, what they cost. */
import { describe, expect, it } from "vitest";
import { makePasswordHashing, USUAL_COST } from "../../../src/services/people/password-hash.js";

const CHEAP = { n: 16, r: 1, p: 1 };
const hashing = makePasswordHashing(CHEAP);

describe("a password hash", () => {
  it("matches its password and no other", async () => {
    const hash = await hashing.hash("sparrow lantern gravel");
    expect(await hashing.matches("sparrow lantern gravel", hash)).toBe(true);
    expect(await hashing.matches("sparrow lantern gravel ", hash)).toBe(false);
    expect(await hashing.matches("Sparrow lantern gravel", hash)).toBe(false);
    expect(await hashing.matches("", hash)).toBe(false);
  });

  it("is another one each time, and holds nothing of the password", async () => {
    const hash = await hashing.hash("sparrow lantern gravel");
    expect(await hashing.hash("sparrow lantern gravel")).not.toBe(hash);
    expect(hash).not.toContain("sparrow");
  });

  it("matches however the keyboard writes the same characters", async () => {
    const hash = await hashing.hash("caf\u00e9 by the harbor");
    expect(await hashing.matches("cafe\u0301 by the harbor", hash)).toBe(true);
  });

  it("that is not there matches nothing, and is worked on all the same", async () => {
    expect(await hashing.matches("sparrow lantern gravel", undefined)).toBe(false);
  });

  it("names its parameters, so that one of an older cost is still read and is known to be outdated", async () => {
    const old = await hashing.hash("sparrow lantern gravel");
    const dearer = makePasswordHashing({ n: 32, r: 1, p: 2 });
    expect(await dearer.matches("sparrow lantern gravel", old)).toBe(true);
    expect([dearer.isOutdated(old), hashing.isOutdated(old)]).toEqual([true, false]);
  });

  it("costs as much as was decided on, 32 MiB, where nobody says otherwise", async () => {
    expect(128 * USUAL_COST.n * USUAL_COST.r).toBe(32 * 2 ** 20);
    const usual = makePasswordHashing();
    const hash = await usual.hash("sparrow lantern gravel");
    expect(hash).toMatch(/^scrypt\$n=32768,r=8,p=3\$/);
    expect(await usual.matches("sparrow lantern gravel", hash)).toBe(true);
  });
});
