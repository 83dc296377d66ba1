/** The contract of the company's store, kept on every PostgreSQL that the tests have. */
import * as fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { parseCompany } from "../../src/domain/company-file.js";
import { listParts, toSource, type Source } from "../../src/domain/company-parts.js";
import { COMPANY_FORMAT } from "../../src/domain/company-schema.js";
import { fail, ok, present } from "../../src/domain/result.js";
import { CompanyStore } from "../../src/store/company-store.js";
import { openDatabase, type Database } from "../../src/store/database.js";
import { findSourceAt, listChanges, type ChangeEntry } from "../../src/store/record-store.js";
import { anyCompanyFile } from "../support/company-arbitrary.js";
import { aCompany, aCrew, aJob, aTask } from "../support/company-builder.js";
import { listTestEngines, makeTestDatabase, type TestDatabase } from "../support/database.js";

const ENTRY: ChangeEntry = {
  madeAt: new Date("2026-12-07T23:00:00Z"),
  personId: null,
  personName: "Robin",
  kind: "company-loaded",
  sentence: "Company file loaded.",
  why: "",
};

/** A builder's company as the JSON object that it is. */
const asSource = (company: unknown): Source => JSON.parse(JSON.stringify(company)) as Source;
const TWO_HOUSES = asSource(
  aCompany({
    crews: [aCrew(), aCrew({ id: "cedar", name: "Cedar" })],
    jobs: [
      aJob({ id: "one", tasks: [aTask({ id: "t1" }), aTask({ id: "t2" })] }),
      aJob({ id: "two", tasks: [aTask({ id: "t1" })] }),
    ],
  }),
);

describe.each(listTestEngines())("the company on %s", (engine) => {
  let testDatabase: TestDatabase;
  let database: Database;
  beforeEach(async () => {
    testDatabase = await makeTestDatabase(engine);
    database = openDatabase(testDatabase.url);
  });
  afterEach(async () => {
    await database.close();
    await testDatabase.drop();
  });

  const write = async (source: Source, store = new CompanyStore(database)) =>
    store.write(() => Promise.resolve(ok({ source, entry: ENTRY })));
  /** What another process reads. */
  const read = async () => new CompanyStore(database).read();

  it("is nothing at version 0 before the first one is loaded", async () => {
    expect(await read()).toEqual({ version: 0, source: undefined, parts: new Map() });
  });

  it("comes back as the company that was written", async () => {
    await write(TWO_HOUSES);
    expect((await read()).source).toEqual(toSource(listParts(TWO_HOUSES), COMPANY_FORMAT));
    expect(parseCompany((await read()).source)).toEqual(parseCompany(TWO_HOUSES));
  });

  it("comes back so for any company", async () => {
    await fc.assert(
      fc.asyncProperty(anyCompanyFile(), async ({ input }) => {
        const source = asSource(input);
        await write(source);
        expect(parseCompany((await read()).source)).toEqual(parseCompany(source));
      }),
      { numRuns: 25 },
    );
  });

  it("counts a version for each change, and gives it to the parts that it wrote alone", async () => {
    await write(TWO_HOUSES);
    const jobs = (TWO_HOUSES["jobs"] as Source[]).map((job) => ({ ...job, name: `${String(job["id"])} St` }));
    await write({ ...TWO_HOUSES, jobs: [jobs[0], (TWO_HOUSES["jobs"] as Source[])[1]] });
    const { version, parts } = await read();
    expect(version).toBe(2);
    expect([...parts].filter(([, part]) => part.version === 2).map(([key]) => key)).toEqual(["job/one"]);
  });

  it("leaves untouched what only moves up where something before it goes away", async () => {
    await write(TWO_HOUSES);
    const [one, two] = TWO_HOUSES["jobs"] as Source[];
    const [, second] = present(one, "the first house")["tasks"] as Source[];
    await write({ ...TWO_HOUSES, jobs: [{ ...one, tasks: [second] }, two] });
    const [newest] = await listChanges(database, { limit: 1 });
    expect(newest).toMatchObject({ version: 2, after: { "task/one/t1": null } });
    expect(Object.keys(present(newest, "a change").before)).toEqual(["task/one/t1"]);
  });

  it("keeps a new order", async () => {
    await write(TWO_HOUSES);
    const turned = { ...TWO_HOUSES, crews: (TWO_HOUSES["crews"] as Source[]).toReversed() };
    await write(turned);
    expect((await read()).source?.["crews"]).toEqual(turned.crews);
  });

  it("stays as it is where a change is refused, and nothing is on record", async () => {
    await write(TWO_HOUSES);
    expect(await new CompanyStore(database).write(() => Promise.resolve(fail("no")))).toEqual(fail("no"));
    expect((await read()).version).toBe(1);
    expect(await listChanges(database, { limit: 10 })).toHaveLength(1);
  });

  it("loses no change of many writers in several processes, and doubles none", async () => {
    await write(asSource(aCompany({ crews: [aCrew({ size: 1 })] })));
    const stores = [new CompanyStore(database), new CompanyStore(database), new CompanyStore(database)];
    await Promise.all(
      Array.from({ length: 24 }, (_, index) =>
        present(stores[index % stores.length], "a store").write((stored) => {
          const source = present(stored.source, "a company");
          const [crew] = source["crews"] as Source[];
          const size = Number(crew?.["size"]) + 1;
          return Promise.resolve(ok({ source: { ...source, crews: [{ ...crew, size }] }, entry: ENTRY }));
        }),
      ),
    );
    const { version, source } = await read();
    expect(version).toBe(25);
    expect(source?.["crews"]).toMatchObject([{ size: 25 }]);
  });

  it("can be told as it was at each of its versions", async () => {
    const sources = fc.sample(anyCompanyFile(), { numRuns: 8, seed: 5 }).map(({ input }) => asSource(input));
    for (const source of sources) await write(source);
    for (const [index, source] of sources.entries()) {
      expect(parseCompany(await findSourceAt(database, index + 1))).toEqual(parseCompany(source));
    }
    expect(await findSourceAt(database, 0)).toBeUndefined();
  });

  it("tells whoever listens of a change, with its version", async () => {
    const connection = await database.connect();
    const heard = new Promise((resolve) => {
      connection.onNotification((channel, payload) => resolve([channel, payload]));
    });
    await connection.query("listen daylap_change");
    await write(TWO_HOUSES);
    expect(await heard).toEqual(["daylap_change", "1"]);
    await connection.release();
  });
});

describe("text that a database cannot keep", () => {
  it.each([
    ["a NUL", "a\u0000b"],
    ["half of a character", "a\uD83D"],
    ["a bell", "a\u0007"],
  ])("%s is a fault of the company file", (_name, name) => {
    const parsed = parseCompany(aCompany({ crews: [aCrew({ name })] }));
    expect(parsed).toMatchObject({ ok: false, error: [{ path: "crews[0].name" }] });
  });
});
