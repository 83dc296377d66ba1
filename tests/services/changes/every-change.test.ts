/** What holds of every kind of change, on random companies. */
import * as fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { parseCompany } from "../../../src/domain/company-file.js";
import type { Source } from "../../../src/domain/company-parts.js";
import type { Company } from "../../../src/domain/company-schema.js";
import { ok, present } from "../../../src/domain/result.js";
import type { Minute } from "../../../src/domain/time.js";
import { applyChange } from "../../../src/services/changes/apply-change.js";
import type { CompanyChange, CompanyDocument } from "../../../src/services/changes/company-change.js";
import { decideUndo } from "../../../src/services/changes/undo.js";
import { CompanyStore } from "../../../src/store/company-store.js";
import { openDatabase, type Database } from "../../../src/store/database.js";
import { anyCompanyFile } from "../../support/company-arbitrary.js";
import { makeTestDatabase, type TestDatabase } from "../../support/database.js";
import { anyChange } from "./change-arbitrary.js";

interface Scene {
  readonly source: Source;
  readonly company: Company;
  readonly nowMinute: Minute;
  readonly change: CompanyChange;
}

const anyScene: fc.Arbitrary<Scene> = anyCompanyFile().chain(({ input, asOf }) => {
  // What a file would give: no field is there without a value.
  const source = JSON.parse(JSON.stringify(input)) as Source;
  const parsed = parseCompany(source);
  const company = present(parsed.ok ? parsed.value : undefined, "a random company without a fault");
  return anyChange(company, asOf).map((change) => ({ source, company, nowMinute: asOf, change }));
});

describe("every change of a company", () => {
  it("gives a company without a fault and a finished sentence, or a sentence that says why not", () => {
    const kinds = new Set<string>();
    fc.assert(
      fc.property(anyScene, ({ change, ...document }) => {
        const applied = applyChange(document satisfies CompanyDocument, change);
        if (applied.ok) {
          kinds.add(change.kind);
          expect(parseCompany(applied.value.source).ok).toBe(true);
          expect(applied.value.source).not.toEqual(document.source);
          expect(applied.value.sentence).toMatch(/^\S.*[^.,: ]\.$/s);
          expect(applied.value.sentence).not.toMatch(/undefined|null|NaN|\d{4}-\d{2}-\d{2}/);
        } else if (applied.error.kind === "refused") {
          expect(applied.error.refusal.sentence).toMatch(/\.$/);
        } else {
          expect(applied.error.faults.length).toBeGreaterThan(0);
          for (const fault of applied.error.faults) expect(fault.sentence).toMatch(/[.?]$/);
        }
      }),
      { numRuns: 800 },
    );
    // Not all of them were refused.
    expect([...kinds].sort()).toEqual([
      "crew-language",
      "day-off-added",
      "day-off-removed",
      "delivery-changed",
      "hold-added",
      "hold-changed",
      "hold-lifted",
      "hours-added",
      "job-paused",
      "promise-moved",
      "sheet-kept",
      "sheet-released",
      "task-added",
      "task-moved",
      "task-progress",
    ]);
  });

  describe("in the database", () => {
    let testDatabase: TestDatabase;
    let database: Database;
    beforeAll(async () => {
      testDatabase = await makeTestDatabase();
      database = openDatabase(testDatabase.url);
    });
    afterAll(async () => {
      await database.close();
      await testDatabase.drop();
    });

    it("is taken back to the very same company", async () => {
      const store = new CompanyStore(database);
      const entry = { madeAt: new Date(0), personId: null, personName: "Robin", kind: "test", why: "" };
      const write = (source: Source, sentence: string) =>
        store.write(() => Promise.resolve(ok({ source, entry: { ...entry, sentence } })));
      let taken = 0;
      await fc.assert(
        fc.asyncProperty(anyScene, async ({ change, ...document }) => {
          const applied = applyChange(document, change);
          fc.pre(applied.ok);
          if (!applied.ok) return;
          await write(document.source, "Loaded.");
          const before = await store.read();
          const made = await write(applied.value.source, applied.value.sentence);
          const version = made.ok ? made.value.version : 0;
          const undone = await store.write(async (stored, queries) => {
            const decided = await decideUndo(stored, version, queries);
            if (!decided.ok) return decided;
            const { source, sentence } = decided.value;
            return ok({ source, entry: { ...entry, sentence, undoes: version } });
          });
          expect(undone.ok).toBe(true);
          expect((await store.read()).source).toEqual(before.source);
          taken += 1;
        }),
        { numRuns: 60 },
      );
      expect(taken).toBeGreaterThan(20);
    });
  });
});
