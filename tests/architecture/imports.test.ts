/**
 * The order of the house, kept by reading its source. Each rule is also shown a made-up file that breaks it, so that
 * a rule which can no longer fail does not pass for one that holds.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import {
  checkDirection,
  checkHeader,
  checkKeptPackages,
  checkLength,
  checkPlanner,
  checkPurity,
  checkReExports,
  listImports,
  MOST_LINES,
  type SourceFile,
} from "./source-rules.js";

const SRC = fileURLToPath(new URL("../../src", import.meta.url));

const files: readonly SourceFile[] = readdirSync(SRC, { recursive: true, encoding: "utf8" })
  .map((path) => path.replaceAll("\\", "/"))
  .filter((path) => path.endsWith(".ts"))
  .toSorted()
  .map((path) => ({ path, text: readFileSync(join(SRC, path), "utf8") }));

const made = (path: string, text: string): SourceFile => ({ path, text });

interface Rule {
  readonly name: string;
  readonly check: (file: SourceFile) => string[];
  readonly broken: readonly SourceFile[];
  readonly sound: readonly SourceFile[];
}

const RULES: readonly Rule[] = [
  {
    name: "a room imports only from the rooms above it",
    check: checkDirection,
    broken: [
      made("domain/a.ts", 'import { b } from "../store/b.js";'),
      made("board/a.ts", 'import type { B } from "../services/b.js";'),
      made("planner/a.ts", 'export { b } from "../board/b.js";'),
      made("services/a.ts", 'const b = await import("../web/b.js");'),
      made("cli/a.ts", 'import "../main.js";'),
      made("web/a.ts", 'import seed from "../../seed/company.json";'),
      made("web/a.ts", 'import {\n  b,\n  c,\n} from "../cli/b.js";'),
      made("attic/a.ts", "export const a = 1;"),
    ],
    sound: [
      made("web/a.ts", 'import { b } from "../services/b.js";\nimport { c } from "./c.js";'),
      made("main.ts", 'import { b } from "./cli/b.js";'),
      made("domain/a.ts", '// import { b } from "../store/b.js";\nexport const a = 1;'),
    ],
  },
  {
    name: "a pure room touches neither machine nor network nor clock nor chance",
    check: checkPurity,
    broken: [
      made("domain/a.ts", 'import { readFile } from "node:fs/promises";'),
      made("planner/a.ts", 'import fs from "fs";'),
      made("planner/core/a.ts", "const seed = Math.random();"),
      made("board/a.ts", "const now = Date.now();"),
      made("daylight/a.ts", "const now = new Date();"),
      made("daylight/a.ts", "const now = new Date;"),
      made("weather/a.ts", 'const answer = await fetch("x");'),
      made("domain/a.ts", 'console.log("x");'),
      made("domain/a.ts", 'const zone = process.env["TZ"];'),
    ],
    sound: [
      made("services/a.ts", "const now = new Date();"),
      made("domain/a.ts", "const then = new Date(0);"),
      made("domain/a.ts", 'const advice = "do not call Date.now() here"; // nor Math.random()'),
    ],
  },
  {
    name: "planner/core imports nothing outside itself, and the planner imports no package",
    check: checkPlanner,
    broken: [
      made("planner/core/a.ts", 'import { b } from "../b.js";'),
      made("planner/core/a.ts", 'import { ok } from "../../domain/result.js";'),
      made("planner/a.ts", 'import { z } from "zod";'),
    ],
    sound: [made("planner/core/moves/a.ts", 'import { b } from "../b.js";')],
  },
  {
    name: "luxon, suncalc and date-holidays are imported only where they are at home",
    check: checkKeptPackages,
    broken: [
      made("domain/company-schema.ts", 'import { DateTime } from "luxon";'),
      made("web/a.ts", 'import SunCalc from "suncalc";'),
      made("domain/time.ts", 'import Holidays from "date-holidays";'),
      made("cli/a.ts", 'import ct from "countries-and-timezones";'),
    ],
    sound: [
      made("domain/time.ts", 'import { DateTime } from "luxon";'),
      made("daylight/sun.ts", 'import SunCalc from "suncalc";'),
    ],
  },
  {
    name: `a file has at most ${MOST_LINES} lines`,
    check: checkLength,
    broken: [made("domain/a.ts", "a;\n".repeat(MOST_LINES + 1))],
    sound: [made("domain/a.ts", "a;\n".repeat(MOST_LINES))],
  },
  {
    name: "no file only passes on what other files export",
    check: checkReExports,
    broken: [
      made("domain/index.ts", '/** All. */\nexport * from "./a.js";\nexport { b } from "./b.js";'),
      made("domain/index.ts", 'export type { A } from "./a.js";'),
    ],
    sound: [made("domain/a.ts", 'export type { A } from "./b.js";\nexport const c = 1;')],
  },
  {
    name: "a file begins with a comment that says what it is",
    check: checkHeader,
    broken: [made("domain/a.ts", "export const a = 1;")],
    sound: [made("cli/a.ts", "#!/usr/bin/env node\n/**\n * A.\n */\n")],
  },
];

describe.each(RULES)("$name", ({ check, broken, sound }) => {
  it("in all of src", () => {
    expect(files.length).toBeGreaterThan(0);
    expect(files.flatMap((file) => check(file))).toEqual([]);
  });

  it.each(broken)("and %j would be found out", (file) => {
    expect(check(file)).not.toEqual([]);
  });

  it.each(sound)("and %j is in order", (file) => {
    expect(check(file)).toEqual([]);
  });
});

it("every line of src that has an import is read as one", () => {
  const missed = files.flatMap((file) => {
    const written = file.text.match(/^(?:import|export)\b.*from "|^\} from "|^import "/gm)?.length ?? 0;
    const read = listImports(file).length;
    return read >= written ? [] : [`${file.path}: ${read} of ${written}`];
  });
  expect(missed).toEqual([]);
});
