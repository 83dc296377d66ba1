/** Backup and restore: every table there and back, into another database, or nothing at all. */
import { afterEach, describe, expect, it } from "vitest";
import { parseCompanyText } from "../../src/domain/company-file.js";
import { present } from "../../src/domain/result.js";
import { openPeople } from "../../src/services/people.js";
import { restore, takeBackup } from "../../src/services/backup.js";
import { readBackup, type RestoredFile } from "../../src/services/backup-file.js";
import { BACKED_UP, LEFT_OUT } from "../../src/store/backup-store.js";
import { CompanyStore } from "../../src/store/company-store.js";
import { openDatabase, type Database, type Queries } from "../../src/store/database.js";
import { backupText, earlierBackupText, oldBackupText, readTables, restoreText } from "../support/backup.js";
import { aCompany, aJob, aTask } from "../support/company-builder.js";
import { listTestEngines, makeTestDatabase, type TestDatabase } from "../support/database.js";
import { ROBIN, useDesks } from "../support/desk.js";
import { demoCompany, EVENING } from "./demo-company.js";

const NOW = new Date("2026-12-08T12:00:00Z");
const ONE_HOUSE = aCompany({ jobs: [aJob({ tasks: [aTask({ id: "t1" })] })] });
const HEADER = (fields: object): string =>
  `${JSON.stringify({ format: "daylap-backup/1", migration: 1, version: 0, rows: {}, ...fields })}\n`;
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

/** A company with changes, one of them taken back, people, a crew's link and its calendar address. */
async function aUsedDatabase(): Promise<Database> {
  const desk = await desks.open(await demoCompany(), { iterations: 1 });
  await desk.make({ kind: "hold-added", input: WET_DAY }, ROBIN);
  await desk.undo(desk.current().version, ROBIN, "it stays dry");
  const database = await desks.database();
  const people = openPeople(database, { passwordCost: { n: 2, r: 1, p: 1 } });
  const crew = present(desk.current().company.crews[0], "a crew");
  await people.makePrivateLink("crew", crew, ROBIN);
  await people.makePrivateLink("feed", crew, ROBIN);
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

  it("begins with the count of rows of each table, and has each row on a line of its own", async () => {
    const database = await aUsedDatabase();
    const [header = "", ...lines] = present(await backupText(database), "a backup")
      .trimEnd()
      .split("\n");
    const tables = await readTables(database);
    const counts = Object.fromEntries(BACKED_UP.map((table) => [table, tables[table].length]));
    expect(JSON.parse(header)).toMatchObject({ format: "daylap-backup/1", version: 3, rows: counts });
    const rows = BACKED_UP.flatMap((table) => tables[table].map((row) => ({ table, row })));
    expect(lines.map((line): unknown => JSON.parse(line))).toEqual(rows);
  });

  it("where a company file is expected says what it is and where it belongs", async () => {
    const parsed = parseCompanyText(present(await backupText(await aUsedDatabase()), "a backup"));
    expect(parsed).toMatchObject({
      ok: false,
      error: [{ sentence: expect.stringContaining("daylap restore") }],
    });
  });

  it("put into an empty database leaves every table as it was, and a row for the restore", async () => {
    const old = await aUsedDatabase();
    const text = present(await backupText(old), "a backup");
    const fresh = await anotherDatabase();
    expect(await restoreText(fresh, text, { now: NOW })).toEqual({ ok: true, value: "backup" });
    const [before, after] = [await readTables(old), await readTables(fresh)];
    expect({ ...after, change: after.change.slice(0, -1) }).toEqual(before);
    expect(after.change.at(-1)).toMatchObject({ kind: "restored", person_name: "Restore", version: 4 });
    expect((await new CompanyStore(fresh).read()).source).toEqual(
      (await new CompanyStore(old).read()).source,
    );
  });

  it.each([
    ["one JSON text", oldBackupText],
    ["lines with a table that is no more", earlierBackupText],
  ])("of an earlier version of the program, %s, comes back as well", async (_, write) => {
    const old = await aUsedDatabase();
    const text = await write(old);
    const fresh = await anotherDatabase();
    expect(await restoreText(fresh, text, { now: NOW })).toEqual({ ok: true, value: "backup" });
    const [before, after] = [await readTables(old), await readTables(fresh)];
    expect({ ...after, change: after.change.slice(0, -1) }).toEqual(before);
  });

  it("can be made of a restored database again, and numbers go on after those that came back", async () => {
    const fresh = await anotherDatabase();
    const text = present(await backupText(await aUsedDatabase()), "a backup");
    await restoreText(fresh, text, { now: NOW });
    const people = openPeople(fresh);
    const again = await people.makePrivateLink("crew", { id: "another-crew", name: "Another" }, ROBIN);
    expect(again).toBeDefined();
    expect(await backupText(fresh)).toContain('"another-crew"');
  });

  it("of an empty database there is none", async () => {
    expect(await backupText(await anotherDatabase())).toBeUndefined();
  });
});

describe("a restore", () => {
  it("takes a company file alone as well", async () => {
    const fresh = await anotherDatabase();
    expect(await restoreText(fresh, JSON.stringify(ONE_HOUSE), { now: NOW })).toEqual({
      ok: true,
      value: "company-file",
    });
    expect((await new CompanyStore(fresh).read()).version).toBe(1);
  });

  it("is refused where there is a company, which stays as it is", async () => {
    const used = await aUsedDatabase();
    const before = await readTables(used);
    const restored = await restoreText(used, JSON.stringify(ONE_HOUSE), { now: NOW });
    expect(restored).toMatchObject({ ok: false, error: [expect.stringContaining("--replace")] });
    expect(await readTables(used)).toEqual(before);
  });

  it("that replaces hands over a backup of what was there before it goes", async () => {
    const used = await aUsedDatabase();
    const before = await readTables(used);
    const kept: string[] = [];
    const other = await anotherDatabase();
    await restoreText(other, JSON.stringify(ONE_HOUSE), { now: NOW });
    const text = present(await backupText(other), "a backup");
    const keepOld = (backup: string): Promise<void> => {
      kept.push(backup);
      return Promise.resolve();
    };
    expect(await restoreText(used, text, { now: NOW, keepOld })).toMatchObject({ ok: true });
    const third = await anotherDatabase();
    await restoreText(third, present(kept[0], "the old company"), { now: NOW });
    expect((await readTables(third)).part).toEqual(before.part);
    expect((await new CompanyStore(used).read()).source?.["jobs"]).toEqual(ONE_HOUSE.jobs);
  });

  it("that cannot keep what is there leaves it there", async () => {
    const used = await aUsedDatabase();
    const before = await readTables(used);
    const keepOld = (): Promise<void> => Promise.reject(new Error("disk full"));
    await expect(restoreText(used, JSON.stringify(ONE_HOUSE), { now: NOW, keepOld })).rejects.toThrow(
      "disk full",
    );
    expect(await readTables(used)).toEqual(before);
  });

  it("into a running company is seen there, whatever its version was", async () => {
    const desk = await desks.open(ONE_HOUSE);
    const { version } = desk.current();
    const other = await anotherDatabase();
    await restoreText(other, JSON.stringify(await demoCompany()), { now: NOW });
    const text = present(await backupText(other), "a backup");
    await restoreText(await desks.database(), text, { now: NOW, keepOld: () => Promise.resolve() });
    await expect.poll(() => desk.current().version, { timeout: 10_000 }).toBeGreaterThan(version);
    expect(desk.current().company.jobs.length).toBeGreaterThan(1);
  });

  it.each([
    ["{", [/no JSON/]],
    [HEADER({ format: "daylap-backup/9" }), [/Line 1: format: must be "daylap-backup\/1"/]],
    [HEADER({ migration: 9999 }), [/Line 1: migration: .*newer version/]],
    [HEADER({ migration: "all" }), [/Line 1: migration: must be a number/]],
    [`${HEADER({})}7\n{"table":"part"}\n{"table":"session","row":{}}\n`, [/Line 2:/, /Line 3:/, /Line 4:/]],
    [
      `${HEADER({})}{"table":"plan","row":{}}\n{"table":"part","row":{}}\n`,
      [/Line 3: rows of part must come/],
    ],
    [HEADER({ rows: { change: 2 } }), [/says that there are 2 rows of change, and has 0. It is not whole/]],
    [`${HEADER({ rows: { part: 1 } })}{"table":"part","row":{"kind":"crew"}}\n`, [/^part: /]],
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
  ])(
    "of a faulty file (case %#) is refused with every fault, and nothing is there",
    async (text, sentences) => {
      const fresh = await anotherDatabase();
      const restored = await restoreText(fresh, text, { now: NOW });
      const faults = restored.ok ? [] : restored.error;
      for (const sentence of sentences) expect(faults.join("\n")).toMatch(sentence);
      expect((await new CompanyStore(fresh).read()).version).toBe(0);
    },
  );

  it("of a backup that was cut off is refused, and nothing is there", async () => {
    const lines = present(await backupText(await aUsedDatabase()), "a backup")
      .trimEnd()
      .split("\n");
    const fresh = await anotherDatabase();
    const restored = await restoreText(fresh, `${lines.slice(0, -1).join("\n")}\n`, { now: NOW });
    expect(restored).toMatchObject({ ok: false, error: [expect.stringContaining("It is not whole.")] });
    expect((await new CompanyStore(fresh).read()).version).toBe(0);
  });

  it("of a row that the database does not take names its line, and nothing is there", async () => {
    const lines = present(await backupText(await aUsedDatabase()), "a backup")
      .trimEnd()
      .split("\n");
    const at = lines.findIndex((line) => line.startsWith('{"table":"private_link"'));
    const broken = lines.with(at, '{"table":"private_link","row":{"id":1,"subject":"alder"}}').join("\n");
    const fresh = await anotherDatabase();
    const restored = await restoreText(fresh, broken, { now: NOW });
    expect(restored).toMatchObject({
      ok: false,
      error: [
        expect.stringMatching(new RegExp(`^Line ${at + 1}: this row of private_link cannot be put back`)),
      ],
    });
    expect((await new CompanyStore(fresh).read()).version).toBe(0);
  });
});

/** Bytes that do not pack, as those of a photo; the same for the same number. */
const PHOTO_SQL = `
  insert into photo (key, version, job_id, crew_id, taken_at, received_at, said_by, width, height, bytes, small, digest)
  select gen_random_uuid(), 1, 'j1', 'alder', now(), now(), 'Noor', 1600, 1200,
    (select string_agg(sha512((number || '/' || piece)::bytea), '' order by piece) from generate_series(1, 4800) piece),
    sha512(number::text::bytea), 'digest-' || number
  from generate_series(1, $1::integer) number`;
const PHOTOS = 200;

describe("of a company with 200 photos of 300 KB", () => {
  const digestsOf = (database: Database): Promise<readonly object[]> =>
    database.query(
      "select id, key, length(bytes) as length, sha256(bytes)::text, sha256(small)::text from photo order by id",
    );

  async function aDatabaseWithPhotos(): Promise<Database> {
    await desks.open(ONE_HOUSE);
    const database = await desks.database();
    await database.query(PHOTO_SQL, [PHOTOS]);
    return database;
  }

  it("a backup reads on only when what it has read is written, and never has many photos in hand", async () => {
    const database = await aDatabaseWithPhotos();
    let [readCharacters, takenCharacters, most] = [0, 0, 0];
    const watched = watchReading(database, (characters) => {
      readCharacters += characters;
      most = Math.max(most, readCharacters - takenCharacters);
    });
    await takeBackup(watched, async (lines) => {
      // As slow as a disk can be: whatever reads ahead without being asked does so now.
      for await (const line of lines) {
        await new Promise((resolve) => setImmediate(resolve));
        takenCharacters += line.length;
      }
    });
    const photo = 2 * 300 * 1024;
    expect(takenCharacters).toBeGreaterThan(PHOTOS * photo);
    expect(most).toBeLessThan(5 * photo);
  });

  it("a restore reads on only when what it has read is written, and brings back the same bytes", async () => {
    const database = await aDatabaseWithPhotos();
    const pieces: Uint8Array[] = [];
    await takeBackup(database, async (lines) => {
      for await (const line of lines) pieces.push(Buffer.from(line));
    });
    let [readBytes, writtenCharacters, most] = [0, 0, 0];
    const file: RestoredFile = {
      // oxlint-disable-next-line typescript/require-await -- what a file is read by is asynchronous
      async *chunks() {
        [readBytes, writtenCharacters] = [0, 0];
        for (const piece of pieces) {
          for (let at = 0; at < piece.length; at += 65_536) {
            const chunk = piece.subarray(at, at + 65_536);
            readBytes += chunk.length;
            yield chunk;
          }
        }
      },
    };
    const contents = await readBackup(file);
    if (!contents.ok) throw new Error(contents.error.join("\n"));
    const fresh = await anotherDatabase();
    const watched = watchWriting(fresh, (characters) => {
      most = Math.max(most, readBytes - writtenCharacters - characters);
      writtenCharacters += characters;
    });
    expect(await restore(watched, contents.value, { now: NOW })).toEqual({ ok: true, value: "backup" });
    // Where one is written, no more than that one and the beginning of the next has been read.
    expect(most).toBeLessThan(3 * 300 * 1024);
    expect(await digestsOf(fresh)).toEqual(await digestsOf(database));
    expect(await digestsOf(fresh)).toHaveLength(PHOTOS);
  });
});

/** Tells how many characters come out of a database in one answer. */
function watchReading(database: Database, tell: (characters: number) => void): Database {
  return {
    ...database,
    connect: async () => {
      const connection = await database.connect();
      return {
        ...connection,
        query: async <Row extends object>(sql: string, values?: Parameters<Queries["query"]>[1]) => {
          const rows = await connection.query<Row>(sql, values);
          tell(rows.reduce((sum, row) => sum + JSON.stringify(row).length, 0));
          return rows;
        },
      };
    },
  };
}

/** Tells how many characters go into a database with each row. */
function watchWriting(database: Database, tell: (characters: number) => void): Database {
  return {
    ...database,
    transaction: (work) =>
      database.transaction((queries) =>
        work({
          query: (sql, values = []) => {
            const characters = values.reduce((sum: number, value) => sum + String(value).length, 0);
            if (sql.startsWith("insert into")) tell(characters);
            return queries.query(sql, values);
          },
        }),
      ),
  };
}
