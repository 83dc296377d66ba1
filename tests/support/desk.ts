/**
 * Desks of the tests: the shipped desk on a database of its own, with a clock that stands still.
 *
 *   const desks = useDesks();           // in the file or a describe block: cleans up after each test
 *   const desk = await desks.open(aCompany());
 */
import { afterEach } from "vitest";
import { formatFault } from "../../src/domain/company-file.js";
import { openDesk, type DeskOptions, type OpenDesk } from "../../src/services/company-desk.js";
import type { Actor } from "../../src/domain/person.js";
import { openDatabase, type Database } from "../../src/store/database.js";
import { makeTestDatabase, type TestDatabase } from "./database.js";
import { sharedWorker } from "./shared-worker.js";

export const ROBIN: Actor = { personId: null, personName: "Robin" };
export const CASEY: Actor = { personId: null, personName: "Casey" };

export interface TestDesks {
  /** The database that all desks of one test share. */
  database(): Promise<Database>;
  /** Opens a desk; where a company is given and none stands yet, it is loaded. */
  open(company?: unknown, options?: Partial<DeskOptions>): Promise<OpenDesk>;
}

export function useDesks(standard: Partial<DeskOptions> = {}): TestDesks {
  let made: Promise<{ readonly testDatabase: TestDatabase; readonly database: Database }> | undefined;
  const opened: OpenDesk[] = [];
  const make = async () => {
    const testDatabase = await makeTestDatabase();
    return { testDatabase, database: openDatabase(testDatabase.url) };
  };
  const database = async (): Promise<Database> => (await (made ??= make())).database;
  afterEach(async () => {
    await Promise.all(opened.splice(0).map((desk) => desk.close()));
    const past = await made;
    made = undefined;
    await past?.database.close();
    await past?.testDatabase.drop();
  });
  return {
    database,
    async open(company, options = {}) {
      const usual = { seed: 1, iterations: 0, worker: sharedWorker() };
      const desk = await openDesk(await database(), { ...usual, ...standard, ...options });
      opened.push(desk);
      if (company !== undefined && desk.isEmpty) {
        const loaded = await desk.load(company, ROBIN, "");
        if (!loaded.ok) throw new Error(loaded.error.map(formatFault).join("\n"));
      }
      return desk;
    },
  };
}
