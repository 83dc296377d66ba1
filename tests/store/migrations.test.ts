/** What the migrations make of a database that an earlier version of the program has filled. */
import { afterEach, describe, expect, it } from "vitest";
import { openPeople } from "../../src/services/people.js";
import { hashOf, makeToken } from "../../src/services/token.js";
import { openDatabase, type Database } from "../../src/store/database.js";
import { migrate, readMigrations } from "../../src/store/migrate.js";
import { listTestEngines, makeEmptyTestDatabase } from "../support/database.js";

const MADE = "'abcd', '2026-12-01T12:00Z', 'Robin'";

let close: (() => Promise<void>) | undefined;
afterEach(() => close?.());

async function openAt(
  migration: number,
  engine: ReturnType<typeof listTestEngines>[number],
): Promise<Database> {
  const empty = await makeEmptyTestDatabase(engine);
  const database = openDatabase(empty.url);
  close = async () => {
    await database.close();
    await empty.drop();
  };
  expect(await migrate(database, (await readMigrations()).slice(0, migration))).toMatchObject({ ok: true });
  return database;
}

describe.each(listTestEngines())("migration 0009, on %s", (engine) => {
  it("keeps every link good: those of crews until their day, the others until they are taken back", async () => {
    const database = await openAt(8, engine);
    const [crew, gone, feed] = [makeToken(), makeToken(), makeToken()];
    await database.query(
      `insert into crew_link (crew_id, token_hash, ending, made_at, made_by, expires_at, revoked_at) values
         ('alder', $1, ${MADE}, '2027-06-01T12:00Z', null), ('alder', $2, ${MADE}, '2027-06-01T12:00Z', now())`,
      [hashOf(crew), hashOf(gone)],
    );
    await database.query(
      `insert into private_link (kind, subject, token_hash, ending, made_at, made_by) values ('feed', 'alder', $1, ${MADE})`,
      [hashOf(feed)],
    );
    expect(await migrate(database, await readMigrations())).toMatchObject({ ok: true });
    const people = openPeople(database, { clock: () => Date.parse("2027-05-31T12:00Z") });
    expect(await people.openPrivateLink("crew", crew)).toEqual({
      subject: "alder",
      expiresAt: new Date("2027-06-01T12:00Z"),
    });
    expect(await people.openPrivateLink("feed", feed)).toEqual({ subject: "alder", expiresAt: null });
    expect(await people.openPrivateLink("crew", gone)).toBeUndefined();
    // A link of one kind opens nothing of another.
    expect(await people.openPrivateLink("feed", crew)).toBeUndefined();
  });
});
