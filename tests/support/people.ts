/**
 * People of the tests: on a database of their own, with a clock that a test moves, and with password hashes that cost
 * next to nothing.
 *
 *   const house = usePeople();
 *   it("…", async () => {
 *     const { people, clock } = await house.open();
 *     const owner = await house.owner(people);
 */
import { afterEach } from "vitest";
import type { Actor, Person, Role } from "../../src/domain/person.js";
import { present, type Result } from "../../src/domain/result.js";
import { openPeople, type People } from "../../src/services/people.js";
import type { PasswordCost } from "../../src/services/people/password-hash.js";
import { openDatabase, type Database } from "../../src/store/database.js";
import { makeTestDatabase } from "./database.js";

export const CHEAP: PasswordCost = { n: 16, r: 1, p: 1 };
export const PASSWORD = "sparrow lantern gravel";
export const OTHER_PASSWORD = "copper mitten causeway";
export const ADDRESS = "192.0.2.10";
export const COMMAND_LINE: Actor = { personId: null, personName: "The command line" };
const START = Date.parse("2026-12-07T12:00:00Z");

export interface TestClock {
  /** Milliseconds since 1970. */
  now: number;
}

export interface OpenPeople {
  readonly people: People;
  readonly database: Database;
  readonly clock: TestClock;
  readonly url: string;
}

/** People on a fresh database for each call; all is closed and dropped after the test. */
export function usePeople(): { open(): Promise<OpenPeople> } {
  const closings: (() => Promise<void>)[] = [];
  afterEach(async () => {
    for (const close of closings.splice(0).toReversed()) await close();
  });
  return {
    async open() {
      const made = await makeTestDatabase();
      const { url } = made;
      closings.push(() => made.drop());
      const database = openDatabase(url);
      closings.push(() => database.close());
      const clock = { now: START };
      const people = openPeople(database, { clock: () => clock.now, passwordCost: CHEAP });
      return { people, database, clock, url };
    },
  };
}

/** The value of a result that must be good. */
export function good<T, E>(result: Result<T, E>): T {
  if (result.ok) return result.value;
  throw new Error(`not good: ${JSON.stringify(result.error)}`);
}

/** The first owner, made as on a first start. */
export async function makeOwner(people: People): Promise<{ person: Person; token: string; by: Actor }> {
  const link = present(await people.firstRun(), "the link of the first start");
  const signedIn = good(
    await people.redeem(link, { name: "Nell Ashe", account: "nell@ashe.example", password: PASSWORD }),
  );
  return { ...signedIn, by: { personId: signedIn.person.id, personName: signedIn.person.name } };
}

/** Somebody who has been invited by the owner and has set PASSWORD. The account is the role's name unless another is given. */
export async function makeMember(
  people: People,
  role: Role,
  account: string = role,
): Promise<{ person: Person; token: string; by: Actor }> {
  const invited = good(await people.invite({ name: `Test ${role}`, account, role }, COMMAND_LINE));
  const signedIn = good(await people.redeem(invited.token, { name: "", account: "", password: PASSWORD }));
  return { ...signedIn, by: { personId: signedIn.person.id, personName: signedIn.person.name } };
}
