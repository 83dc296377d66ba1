/** Which passwords are taken. */
import { describe, expect, it } from "vitest";
import { findPasswordFault } from "../../../src/services/people/password-rules.js";

const NAMES = ["nell.ashe@ashe-exteriors.example", "Nell Ashe"];

describe("a password", () => {
  it.each([
    "sparrow lantern gravel",
    "no capital and no digit",
    "UPPER CASE ONLY",
    "4815162342-1108",
    "我們明天早上七點在港口見面吧",
    "🪵🪟🧱🪜🔨🪚🧰🌧☀🌲🌊🏠",
    "Tr0ub4dor&3-harbor",
  ])("%j is taken, whatever characters it is made of", (password) => {
    expect(findPasswordFault(password, NAMES)).toBeUndefined();
  });

  it("needs twelve characters, of which many spaces in a row count as one", () => {
    expect(findPasswordFault("gravel lamp", NAMES)).toContain("at least 12 characters");
    expect(findPasswordFault("gravel      lamp", NAMES)).toContain("at least 12 characters");
    expect(findPasswordFault("gravel lamps", NAMES)).toBeUndefined();
  });

  it("may have 128 characters and no more", () => {
    const long = "a long way to the harbor, past the mill and over the bridge. ".repeat(3);
    expect(findPasswordFault(long.slice(0, 128), NAMES)).toBeUndefined();
    expect(findPasswordFault(long.slice(0, 129), NAMES)).toContain("more than 128 characters");
  });

  it.each([
    "passwordpassword",
    "PASSWORD1234",
    "Password123!",
    "123456789012",
    "abcdefghijkl",
    "qwertyuiop12",
    "lkjhgfdsa987",
    "1qaz2wsx3edc",
    "aaaaaaaaaaaa",
    "abc123abc123abc",
    "hunter hunter hunter ",
    "correct horse battery staple",
    "ｐａｓｓｗｏｒｄ１２３４",
  ])("%j is refused, for it is tried first", (password) => {
    expect(findPasswordFault(password, NAMES)).toContain("tried first");
  });

  it.each(["nell.ashe@ashe-exteriors.example", "NellAshe2026!", "nell.ashe-1234", "daylap-nell-1"])(
    "%j is refused, for it is little more than her own names",
    (password) => {
      expect(findPasswordFault(password, NAMES)).toContain("a name that others know");
    },
  );

  it("may hold a name beside words of its own", () => {
    expect(findPasswordFault("nell paints the barn", NAMES)).toBeUndefined();
  });
});
