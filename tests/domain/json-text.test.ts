/** Texts that are no JSON: the first fault is named with its line and column. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatFault, parseCompanyText } from "../../src/domain/company-file.js";
import { findTextFault } from "../../src/domain/json-text.js";
import { validFile } from "../support/valid-file.js";
import { propertySeed } from "../support/property-seed.js";

describe("a text that is no company file", () => {
  it.each([
    ["", "The file is empty."],
    [
      '{\n  "format": "daylap-company/1"\n  "trades": []\n}',
      'This is no JSON: in line 3, column 3, a comma or } is expected instead of ".',
    ],
    ['{ "format": daylap }', "This is no JSON: in line 1, column 13, a value is expected instead of d."],
    ['{ "trades": [1, 2,] }', "This is no JSON: in line 1, column 19, a value is expected instead of ]."],
    [
      '{ "trades": [1, 2',
      "This is no JSON: in line 1, column 18, a comma or ] is expected instead of the end of the file.",
    ],
    [
      "{ 'format': 1 }",
      "This is no JSON: in line 1, column 3, a field name in quotes is expected instead of '.",
    ],
    [
      '{ "name": "Tern\nRock" }',
      "This is no JSON: in line 1, column 11, a text in quotes begins that does not end on its line.",
    ],
    [
      '{ "name": "C:\\yard" }',
      "This is no JSON: in line 1, column 14, a backslash is followed by no escape that JSON knows.",
    ],
    ["{} {}", "This is no JSON: in line 1, column 4, the file goes on with { after its end."],
    [
      '{ "id": 1, "id": 2 }',
      'This is no JSON: in line 1, column 12, the field "id" is written a second time in the same object.',
    ],
    [
      "[".repeat(200_000),
      "This is no JSON: in line 1, column 102, lists and objects are nested more than 100 deep.",
    ],
  ])("has its place named (%#)", (text, sentence) => {
    expect(sentenceOf(text)).toEqual([sentence]);
  });

  it("a byte order mark, Windows line ends and a valid file are read", () => {
    expect(sentenceOf(`\uFEFF${JSON.stringify(validFile(), null, 2).replaceAll("\n", "\r\n")}`)).toEqual([]);
  });

  it("is found exactly where the engine's own reader fails, whatever the damage", () => {
    const sound = JSON.stringify(validFile());
    const bits = fc.constantFrom(
      ...Array.from('{}[]",:\\0-1.eEtu \n'),
      "null",
      "true",
      "1e5",
      "01",
      "\\u00e9",
    );
    fc.assert(
      fc.property(fc.nat(sound.length), fc.nat(3), fc.oneof(bits, fc.constant("")), (at, length, bit) => {
        const damaged = sound.slice(0, at) + bit + sound.slice(at + length);
        const sentence = findTextFault(damaged) ?? "";
        if (isJson(damaged)) expect(sentence).toMatch(/^$|a second time/);
        else expect(sentence).not.toBe("");
      }),
      { seed: propertySeed(20_270_316), numRuns: 3000 },
    );
  });
});

function isJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}

function sentenceOf(text: string): string[] {
  const result = parseCompanyText(text);
  return result.ok ? [] : result.error.map(formatFault);
}
