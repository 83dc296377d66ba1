/** Whatever one value of a company file is replaced by, the answer is a company or plain sentences, never an exception. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseCompany } from "../../src/domain/company-file.js";
import { validFile } from "../support/valid-file.js";
import { propertySeed } from "../support/property-seed.js";

/** The paths of all values in the file, as `parseCompany` is to see them replaced. */
function listPaths(node: unknown, at: readonly string[] = []): (readonly string[])[] {
  if (typeof node !== "object" || node === null) return [at];
  return [at, ...Object.entries(node).flatMap(([key, child]) => listPaths(child, [...at, key]))];
}

function replaced(node: unknown, at: readonly string[], value: unknown): unknown {
  const [key, ...rest] = at;
  if (key === undefined) return value;
  const copy: unknown[] | Record<string, unknown> = Array.isArray(node)
    ? [...(node as unknown[])]
    : { ...(node as object) };
  Object.assign(copy, { [key]: replaced((node as Readonly<Record<string, unknown>>)[key], rest, value) });
  return copy;
}

const file: unknown = JSON.parse(JSON.stringify(validFile()));
const paths = listPaths(file);
const anyValue = fc.oneof(
  fc.jsonValue(),
  fc.constantFrom<unknown>(
    undefined,
    NaN,
    Infinity,
    -1,
    0,
    1e300,
    "",
    "\u0000",
    [],
    {},
    [null],
    "24:00",
    "t1",
    "siding",
  ),
  fc
    .constantFrom(...paths)
    .map((path) => path.reduce<unknown>((node, key) => (node as Record<string, unknown>)[key], file)),
);

describe("a damaged company file", () => {
  it("has an answer, and each fault is one finished sentence with a path", () => {
    fc.assert(
      fc.property(fc.constantFrom(...paths), anyValue, (at, value) => {
        const result = parseCompany(replaced(file, at, value));
        for (const { path, sentence } of result.ok ? [] : result.error) {
          expect(sentence).toMatch(/^\S[^\n]*[.?]$/u);
          expect(sentence).not.toMatch(/undefined|Invalid input|\[object|Symbol/);
          if (at.length > 0) expect(path).not.toBe("");
        }
      }),
      { seed: propertySeed(20_270_316), numRuns: 1000 },
    );
  });

  it("read twice has the same answer", () => {
    fc.assert(
      fc.property(fc.constantFrom(...paths), anyValue, (at, value) => {
        const input = replaced(file, at, value);
        expect(parseCompany(input)).toEqual(parseCompany(input));
      }),
      { seed: propertySeed(7), numRuns: 300 },
    );
  });

  it("that was accepted is accepted again as it was read", () => {
    const read = parseCompany(file);
    expect(read.ok && parseCompany(JSON.parse(JSON.stringify(read.value)))).toEqual(read);
  });
});
