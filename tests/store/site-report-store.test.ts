/** The contract of the table of reports, kept on every PostgreSQL that the tests have. */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { ok, present } from "../../src/domain/result.js";
import { civilDate } from "../../src/domain/time.js";
import { CompanyStore } from "../../src/store/company-store.js";
import type { Source } from "../../src/domain/company-parts.js";
import { openDatabase, type Database } from "../../src/store/database.js";
import type { ChangeEntry } from "../../src/store/record-store.js";
import {
  findReport,
  insertReport,
  listReportsOfTask,
  listReportsSince,
  SiteReportStore,
  type NewSiteReport,
} from "../../src/store/site-report-store.js";
import { aCompany } from "../support/company-builder.js";
import { listTestEngines, makeTestDatabase, type TestDatabase } from "../support/database.js";

const SOURCE = JSON.parse(JSON.stringify(aCompany())) as Source;
const KEY = "0b1f6a1e-5d1c-4f7e-9a43-0d3b8f2c1a01";
const OTHER_KEY = "0b1f6a1e-5d1c-4f7e-9a43-0d3b8f2c1a02";

const REPORT: NewSiteReport = {
  key: KEY,
  crewId: "alder",
  date: civilDate("2026-12-07"),
  jobId: "spruce-14",
  taskId: "t1",
  body: { kind: "hours-left", hours: 4.5, note: "slow" },
  saidAt: new Date("2026-12-07T19:00:00Z"),
  receivedAt: new Date("2026-12-07T20:00:00Z"),
  saidBy: "Noor",
  applied: true,
  meets: null,
  met: [],
};

describe.each(listTestEngines())("reports on %s", (engine) => {
  let testDatabase: TestDatabase;
  let database: Database;
  let store: SiteReportStore;
  beforeEach(async () => {
    testDatabase = await makeTestDatabase(engine);
    database = openDatabase(testDatabase.url);
    store = new SiteReportStore(database);
  });
  afterEach(async () => {
    await database.close();
    await testDatabase.drop();
  });

  /** Puts a change on record, with a report where one is given. */
  const write = async (report?: Partial<NewSiteReport>, undoes?: number): Promise<number> => {
    const entry: ChangeEntry = {
      madeAt: REPORT.receivedAt,
      personId: null,
      personName: "Noor",
      kind: report === undefined ? "undone" : "site-report",
      sentence: "Said.",
      why: "",
      ...(undoes !== undefined && { undoes }),
    };
    const written = await new CompanyStore(database).write(() =>
      Promise.resolve(
        ok({
          source: SOURCE,
          entry,
          also: async (queries, version) => {
            if (report !== undefined) await insertReport(queries, version, { ...REPORT, ...report });
          },
        }),
      ),
    );
    return present(written.ok ? written.value.version : undefined, "the version");
  };

  it("come back as they were written", async () => {
    const version = await write({});
    expect(await findReport(database, KEY)).toEqual({
      ...REPORT,
      id: 1,
      version,
      settledAt: null,
      settledBy: null,
      isTakenBack: false,
    });
    expect(await findReport(database, OTHER_KEY)).toBeUndefined();
  });

  it("have one row for a key, whatever else they say, and then nothing of that change is written", async () => {
    const version = await write({});
    await expect(write({ body: { kind: "done", note: "" } })).rejects.toThrow();
    expect((await new CompanyStore(database).read()).version).toBe(version);
    expect(await store.list(10)).toHaveLength(1);
  });

  it("that the office has not done with come first, and the newest first among them", async () => {
    await write({});
    await write({ key: OTHER_KEY });
    await store.settle(2, { at: REPORT.receivedAt, by: "Robin" });
    expect((await store.list(10)).map(({ id }) => id)).toEqual([1, 2]);
    expect(await store.standing()).toMatchObject({ open: 1 });
    const { mark } = await store.standing();
    expect(await store.settle(2, null)).toMatchObject({ settledAt: null, settledBy: null });
    expect((await store.standing()).mark).not.toBe(mark);
    expect((await store.list(10)).map(({ id }) => id)).toEqual([2, 1]);
  });

  it("keep who settled them first", async () => {
    await write({});
    await store.settle(1, { at: REPORT.receivedAt, by: "Robin" });
    expect(await store.settle(1, { at: new Date(), by: "Casey" })).toMatchObject({ settledBy: "Robin" });
    expect(await store.settle(99, { at: new Date(), by: "Casey" })).toBeUndefined();
  });

  it("whose change was taken back are not open, and are again when that is taken back", async () => {
    const version = await write({});
    const undo = await write(undefined, version);
    expect(await findReport(database, KEY)).toMatchObject({ isTakenBack: true });
    expect(await store.standing()).toMatchObject({ open: 0 });
    expect(await listReportsOfTask(database, "spruce-14", "t1")).toEqual([]);
    expect(await listReportsSince(database, 0, ["spruce-14/t1"])).toEqual([]);
    await write(undefined, undo);
    expect(await findReport(database, KEY)).toMatchObject({ isTakenBack: false });
    expect(await listReportsSince(database, 0, ["spruce-14/t1"])).toHaveLength(1);
  });

  it("of a crew's day are those about it and those said on it", async () => {
    await write({});
    await write({ key: OTHER_KEY, date: civilDate("2026-12-08") });
    const day = (date: string) =>
      store.listOfCrewDay(
        "alder",
        {
          date: civilDate(date),
          from: new Date(`${date}T05:00:00Z`),
          to: new Date(new Date(`${date}T05:00:00Z`).getTime() + 86_400_000),
        },
        10,
      );
    expect((await day("2026-12-07")).map(({ id }) => id)).toEqual([2, 1]);
    expect((await day("2026-12-08")).map(({ id }) => id)).toEqual([2]);
    expect(await day("2026-12-09")).toEqual([]);
  });

  it("are never said after they came", async () => {
    await expect(write({ saidAt: new Date("2026-12-07T20:01:00Z") })).rejects.toThrow();
  });
});
