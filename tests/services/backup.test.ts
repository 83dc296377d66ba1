/** Backup and restore: every table there and back, into another database, or nothing at all. */
import { afterEach, describe, expect, it } from "vitest";
import { parseCompanyText } from "../../src/domain/company-file.js";
import { present } from "../../src/domain/result.js";
import { makeBackup, restore } from "../../src/services/backup.js";
import { openPeople } from "../../src/services/people.js";
import { BACKED_UP, LEFT_OUT, readTables } from "../../src/store/backup-store.js";
import { CompanyStore } from "../../src/store/company-store.js";
import { openDatabase, type Database } from "../../src/store/database.js";
import { aCompany, aJob, aTask } from "../support/company-builder.js";
import { listTestEngines, makeTestDatabase, type TestDatabase } from "../support/database.js";
import { ROBIN, useDesks } from "../support/desk.js";
import { demoCompany, EVENING } from "./demo-company.js";

const NOW = new Date("2026-12-08T12:00:00Z");
const ONE_HOUSE = aCompany({ jobs: [aJob({ tasks: [aTask({ id: "t1" })] })] });
const WET_DAY = {
  from: "2026-12-08T00:00",
  to: "2026-12-09T00:00",
  trades: "outdoor",
  jobs: "all",
  why: "rain",
} as const;

const desks = useDesks({ clock: () => EVENING });
const made: { readonly database: Database; readonly testDatabase: TestDatabase }[] = [];
afterEach(async () => {
  for (const { database, testDatabase } of made.splice(0)) {
    await database.close();
    await testDatabase.drop();
  }
});

async function anotherDatabase(engine = listTestEngines().at(-1)): Promise<Database> {
  const testDatabase = await makeTestDatabase(engine);
  const database = openDatabase(testDatabase.url);
  made.push({ database, testDatabase });
  return database;
}

/** A company with changes, one of them taken back, people and a crew's link. */
async function aUsedDatabase(): Promise<Database> {
  const desk = await desks.open(await demoCompany(), { iterations: 1 });
  await desk.make({ kind: "hold-added", input: WET_DAY }, ROBIN);
  await desk.undo(desk.current().version, ROBIN, "it stays dry");
  const database = await desks.database();
  const people = openPeople(database, { passwordCost: { n: 2, r: 1, p: 1 } });
  await people.makeCrewLink(present(desk.current().company.crews[0], "a crew"), ROBIN);
  return database;
}

describe("a backup", () => {
  it("names each table of the database, as one that it holds or as one that it leaves out", async () => {
    const database = await anotherDatabase();
    const rows = await database.query<{ name: string }>(
      "select table_name as name from information_schema.tables where table_schema = current_schema()",
    );
    expect(rows.map(({ name }) => name).toSorted()).toEqual([...BACKED_UP, ...LEFT_OUT].toSorted());
  });

  it("is a company file that any reader can read", async () => {
    const text = present(await makeBackup(await aUsedDatabase()), "a backup");
    expect(parseCompanyText(text).ok).toBe(true);
  });

  it("put into an empty database leaves every table as it was, and a row for the restore", async () => {
    const old = await aUsedDatabase();
    const text = present(await makeBackup(old), "a backup");
    const fresh = await anotherDatabase();
    expect(await restore(fresh, text, { now: NOW })).toEqual({ ok: true, value: "backup" });
    const [before, after] = [await readTables(old), await readTables(fresh)];
    expect({ ...after, change: after.change.slice(0, -1) }).toEqual(before);
    expect(after.change.at(-1)).toMatchObject({ kind: "restored", person_name: "Restore", version: 4 });
    expect((await new CompanyStore(fresh).read()).source).toEqual(
      (await new CompanyStore(old).read()).source,
    );
  });

  it("can be made of a restored database again, and numbers go on after those that came back", async () => {
    const fresh = await anotherDatabase();
    const text = present(await makeBackup(await aUsedDatabase()), "a backup");
    await restore(fresh, text, { now: NOW });
    const people = openPeople(fresh);
    const again = await people.makeCrewLink({ id: "another-crew", name: "Another" }, ROBIN);
    expect(again).toBeDefined();
    expect(await makeBackup(fresh)).toContain('"another-crew"');
  });

  it("of an empty database there is none", async () => {
    expect(await makeBackup(await anotherDatabase())).toBeUndefined();
  });
});

describe("a restore", () => {
  it("takes a company file alone as well", async () => {
    const fresh = await anotherDatabase();
    expect(await restore(fresh, JSON.stringify(ONE_HOUSE), { now: NOW })).toEqual({
      ok: true,
      value: "company-file",
    });
    expect((await new CompanyStore(fresh).read()).version).toBe(1);
  });

  it("is refused where there is a company, which stays as it is", async () => {
    const used = await aUsedDatabase();
    const before = await readTables(used);
    const restored = await restore(used, JSON.stringify(ONE_HOUSE), { now: NOW });
    expect(restored).toMatchObject({ ok: false, error: [expect.stringContaining("--replace")] });
    expect(await readTables(used)).toEqual(before);
  });

  it("that replaces hands over a backup of what was there before it goes", async () => {
    const used = await aUsedDatabase();
    const before = await readTables(used);
    const kept: string[] = [];
    const other = await anotherDatabase();
    await restore(other, JSON.stringify(ONE_HOUSE), { now: NOW });
    const text = present(await makeBackup(other), "a backup");
    const keepOld = (backup: string): Promise<void> => {
      kept.push(backup);
      return Promise.resolve();
    };
    expect(await restore(used, text, { now: NOW, keepOld })).toMatchObject({ ok: true });
    const third = await anotherDatabase();
    await restore(third, present(kept[0], "the old company"), { now: NOW });
    expect((await readTables(third)).part).toEqual(before.part);
    expect((await new CompanyStore(used).read()).source?.["jobs"]).toEqual(ONE_HOUSE.jobs);
  });

  it("that cannot keep what is there leaves it there", async () => {
    const used = await aUsedDatabase();
    const before = await readTables(used);
    const keepOld = (): Promise<void> => Promise.reject(new Error("disk full"));
    await expect(restore(used, JSON.stringify(ONE_HOUSE), { now: NOW, keepOld })).rejects.toThrow(
      "disk full",
    );
    expect(await readTables(used)).toEqual(before);
  });

  it("into a running company is seen there, whatever its version was", async () => {
    const desk = await desks.open(ONE_HOUSE);
    const { version } = desk.current();
    const other = await anotherDatabase();
    await restore(other, JSON.stringify(await demoCompany()), { now: NOW });
    const text = present(await makeBackup(other), "a backup");
    await restore(await desks.database(), text, { now: NOW, keepOld: () => Promise.resolve() });
    await expect.poll(() => desk.current().version, { timeout: 10_000 }).toBeGreaterThan(version);
    expect(desk.current().company.jobs.length).toBeGreaterThan(1);
  });

  it.each([
    ["{", [/no JSON/]],
    [JSON.stringify({ ...ONE_HOUSE, crews: [], extra: 1 }), [/extra/]],
    [JSON.stringify({ ...ONE_HOUSE, office: { format: "other" } }), [/office\.format/]],
    [
      JSON.stringify({ ...ONE_HOUSE, office: { format: "daylap-office/1", migration: 9999 } }),
      [/newer version/],
    ],
    [
      JSON.stringify({
        ...ONE_HOUSE,
        office: { format: "daylap-office/1", migration: 1, plan: 7, person: [3] },
      }),
      [/office\.plan/, /office\.person/],
    ],
  ])("of %.60s… is refused with every fault, and nothing is there", async (text, sentences) => {
    const fresh = await anotherDatabase();
    const restored = await restore(fresh, text, { now: NOW });
    const faults = restored.ok ? [] : restored.error;
    for (const sentence of sentences) expect(faults.join("\n")).toMatch(sentence);
    expect((await new CompanyStore(fresh).read()).version).toBe(0);
  });
});
