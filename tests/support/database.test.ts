/** The databases that tests are given, on every server of the run. */
import { describe, expect, it } from "vitest";
import { openDatabase } from "../../src/store/database.js";
import { readMigrations } from "../../src/store/migrate.js";
import { listTestEngines, makeEmptyTestDatabase, makeTestDatabase } from "./database.js";

describe.each(listTestEngines())("on the server %s", (engine) => {
  it("each test's database is migrated and its own", async () => {
    const [one, two] = await Promise.all([makeTestDatabase(engine), makeTestDatabase(engine)]);
    const [first, second] = [openDatabase(one.url), openDatabase(two.url)];
    try {
      await first.query("create table mark ()");
      expect(await second.query("select to_regclass('mark') as mark")).toEqual([{ mark: null }]);
      expect(await second.query("select count(*) from migration")).toEqual([
        { count: (await readMigrations()).length },
      ]);
    } finally {
      for (const database of [first, second]) await database.close();
      for (const made of [one, two]) await made.drop();
    }
  });

  it("an empty database has no table, and a dropped one is gone although it was in use", async () => {
    const made = await makeEmptyTestDatabase(engine);
    const database = openDatabase(made.url);
    try {
      expect(await database.query("select 1 from pg_tables where schemaname = 'public'")).toEqual([]);
      await made.drop();
      await expect(database.query("select 1")).rejects.toThrow("cannot be reached");
    } finally {
      await database.close();
    }
  });
});
