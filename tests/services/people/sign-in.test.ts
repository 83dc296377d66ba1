/** Signing in, and what slows down whoever guesses. */
import { describe, expect, it } from "vitest";
import { openPeople, type People } from "../../../src/services/people.js";
import { makePasswordHashing } from "../../../src/services/people/password-hash.js";
import { makeSignIn } from "../../../src/services/people/sign-in.js";
import { toAddressKey } from "../../../src/services/people/sign-in-throttle.js";
import { openDatabase, type Database } from "../../../src/store/database.js";
import { countStoredTries } from "../../../src/store/sign-in-attempt-store.js";
import { ADDRESS, CHEAP, good, makeMember, makeOwner, PASSWORD, usePeople } from "../../support/people.js";

const SECOND = 1_000;
const HOUR = 3_600 * SECOND;
const house = usePeople();

const trySignIn = (people: People, account: string, password: string, address = ADDRESS) =>
  people.signIn({ account, password, address });

/** Fails `times` times, and gives the seconds that the first try of these had to wait that was not looked at. */
async function failUntilStopped(people: People, account: string, address = ADDRESS): Promise<number> {
  for (let tries = 0; tries < 100; tries += 1) {
    const tried = await trySignIn(people, account, "wrong wrong wrong", address);
    if (!tried.ok && tried.error.retryAfterSeconds !== undefined) return tried.error.retryAfterSeconds;
  }
  throw new Error("never stopped");
}

describe("signing in", () => {
  it("lets in whoever has account and password, in whatever letters the account is written", async () => {
    const { people } = await house.open();
    const { person } = await makeOwner(people);
    const signedIn = good(await trySignIn(people, " NELL@Ashe.example ", PASSWORD));
    expect(signedIn.person).toEqual(person);
    expect(await people.session(signedIn.token)).toEqual(person);
  });

  it("gives a token that was never given before, and ends the session that the browser held", async () => {
    const { people } = await house.open();
    const { token: first } = await makeOwner(people);
    const request = { account: "nell@ashe.example", password: PASSWORD, address: ADDRESS };
    const { token: second } = good(await people.signIn({ ...request, tokenBefore: first }));
    expect(second).not.toBe(first);
    expect(await people.session(first)).toBeUndefined();
    expect(await people.session(second)).toBeDefined();
  });

  it("refuses in the same words whether account, password or both are wrong, or the person is disabled or only invited", async () => {
    const { people } = await house.open();
    const { by } = await makeOwner(people);
    const gone = await makeMember(people, "dispatcher");
    good(await people.disable({ personId: gone.person.id, version: gone.person.version, why: "" }, by));
    good(await people.invite({ name: "Lou", account: "lou", role: "viewer" }, by));
    const refusals = [
      await trySignIn(people, "nell@ashe.example", "wrong wrong wrong"),
      await trySignIn(people, "nobody", PASSWORD),
      await trySignIn(people, "dispatcher", PASSWORD),
      await trySignIn(people, "lou", PASSWORD),
      await trySignIn(people, "", ""),
      await trySignIn(people, "nell\u0000@ashe.example", "\u0000\ud800"),
    ];
    for (const refusal of refusals) expect(refusal).toEqual(refusals[0]);
    expect(refusals[0]).toMatchObject({ ok: false, error: { kind: "not-recognised" } });
  });

  it("does the same work for an account that does not exist as for a wrong password", async () => {
    const { people, database } = await house.open();
    await makeOwner(people);
    const workOn = async (account: string): Promise<readonly string[]> => {
      const work: string[] = [];
      const hashing = makePasswordHashing(CHEAP);
      const counted: Database = {
        ...database,
        query: (sql, values) => {
          work.push(sql);
          return database.query(sql, values);
        },
        transaction: (inner) => {
          work.push("transaction");
          return database.transaction(inner);
        },
      };
      const signIn = makeSignIn({
        database: counted,
        clock: () => Date.parse("2026-12-07T12:00:00Z"),
        hashing: {
          ...hashing,
          matches: (password, hash) => {
            work.push(`hash ${password}`);
            return hashing.matches(password, hash);
          },
        },
      });
      await signIn({ account, password: "wrong wrong wrong", address: ADDRESS });
      return work;
    };
    const work = await workOn("nell@ashe.example");
    expect(work).toContain("hash wrong wrong wrong");
    expect(await workOn("nobody")).toEqual(work);
  });

  it("puts a hash of an older cost in order while the password is at hand", async () => {
    const { people, database } = await house.open();
    await makeOwner(people);
    const hashOf = async (): Promise<string | undefined> =>
      (await database.query<{ password_hash: string }>("select password_hash from person"))[0]?.password_hash;
    expect(await hashOf()).toMatch(/^scrypt\$n=16,r=1,p=1\$/);
    const dearer = openPeople(database, { passwordCost: { n: 32, r: 1, p: 1 } });
    const { person } = good(await trySignIn(dearer, "nell@ashe.example", PASSWORD));
    expect(await hashOf()).toMatch(/^scrypt\$n=32,r=1,p=1\$/);
    expect((await people.list())[0]?.version).toBe(person.version);
    good(await trySignIn(people, "nell@ashe.example", PASSWORD));
  });

  it("lets many in at once", async () => {
    const { people } = await house.open();
    await makeOwner(people);
    const all = Array.from({ length: 15 }, () => trySignIn(people, "nell@ashe.example", PASSWORD));
    // Each counts as failed until it has succeeded, so that some may have to wait; none is lost or crashes.
    const results = await Promise.all(all);
    expect(results.filter(({ ok }) => ok).length).toBeGreaterThanOrEqual(5);
    for (const result of results) {
      if (!result.ok) expect(result.error.kind).toBe("too-many-tries");
    }
    good(await trySignIn(people, "nell@ashe.example", PASSWORD, "192.0.2.99"));
  });
});

describe("an account at which somebody fails", () => {
  it("has five tries free, and then each doubles the wait, up to a quarter of an hour", async () => {
    const { people, clock } = await house.open();
    await makeOwner(people);
    const waits: number[] = [];
    for (let round = 0; round < 8; round += 1) {
      const address = `192.0.2.${round + 1}`;
      waits.push(await failUntilStopped(people, "nell@ashe.example", address));
      clock.now += (waits.at(-1) ?? 0) * SECOND;
    }
    expect(waits).toEqual([30, 60, 120, 240, 480, 900, 900, 900]);
  });

  it("is not looked at before the wait is over, not even with the right password", async () => {
    const { people, clock } = await house.open();
    await makeOwner(people);
    const wait = await failUntilStopped(people, "nell@ashe.example");
    clock.now += wait * SECOND - 1;
    const early = await trySignIn(people, "nell@ashe.example", PASSWORD);
    expect(early).toMatchObject({ ok: false, error: { kind: "too-many-tries", retryAfterSeconds: 1 } });
    clock.now += 1;
    good(await trySignIn(people, "nell@ashe.example", PASSWORD));
  });

  it("has all its tries free again after a success", async () => {
    const { people } = await house.open();
    await makeOwner(people);
    for (let round = 0; round < 3; round += 1) {
      for (let tries = 0; tries < 4; tries += 1)
        await trySignIn(people, "nell@ashe.example", "wrong wrong wrong");
      good(await trySignIn(people, "nell@ashe.example", PASSWORD));
    }
  });

  it("is slowed down alike where it does not exist", async () => {
    const { people } = await house.open();
    await makeOwner(people);
    expect(await failUntilStopped(people, "nobody", "192.0.2.1")).toBe(
      await failUntilStopped(people, "nell@ashe.example", "192.0.2.2"),
    );
  });

  it("is slowed down also after a restart, and by another process on the same database", async () => {
    const { people, clock, url } = await house.open();
    await makeOwner(people);
    const wait = await failUntilStopped(people, "nell@ashe.example");
    const database = openDatabase(url);
    try {
      const restarted = openPeople(database, { clock: () => clock.now, passwordCost: CHEAP });
      const tried = await trySignIn(restarted, "nell@ashe.example", PASSWORD);
      expect(tried).toMatchObject({ ok: false, error: { retryAfterSeconds: wait } });
    } finally {
      await database.close();
    }
  });

  it("is not guessed at faster by trying all at once", async () => {
    const { people } = await house.open();
    await makeOwner(people);
    const tries = await Promise.all(
      Array.from({ length: 40 }, (_, index) =>
        trySignIn(people, "nell@ashe.example", "wrong wrong wrong", `192.0.2.${index}`),
      ),
    );
    const lookedAt = tries.filter((tried) => !tried.ok && tried.error.kind === "not-recognised");
    expect(lookedAt).toHaveLength(5);
  });

  it("is forgotten after a day, row and all", async () => {
    const { people, clock, database } = await house.open();
    await makeOwner(people);
    await failUntilStopped(people, "nobody");
    clock.now += 25 * HOUR;
    good(await trySignIn(people, "nell@ashe.example", PASSWORD));
    expect(await countStoredTries(database)).toBe(1);
  });

  it("is not kept by name, for a password may have been typed there", async () => {
    const { people, database } = await house.open();
    await trySignIn(people, PASSWORD, "");
    const rows = await database.query("select * from sign_in_attempt");
    expect(rows).toHaveLength(2);
    expect(JSON.stringify(rows)).not.toContain("sparrow");
  });
});

describe("a network address from which somebody fails", () => {
  it("is slowed down after twenty tries, whatever accounts they were at, and no other address is", async () => {
    const { people } = await house.open();
    await makeOwner(people);
    for (let tries = 0; tries < 20; tries += 1)
      await trySignIn(people, `account-${tries}`, "wrong wrong wrong");
    const stopped = await trySignIn(people, "nell@ashe.example", PASSWORD);
    expect(stopped).toMatchObject({ ok: false, error: { kind: "too-many-tries", retryAfterSeconds: 30 } });
    good(await trySignIn(people, "nell@ashe.example", PASSWORD, "192.0.2.11"));
  });

  it("does not have its failures wiped out by a success of its own", async () => {
    const { people } = await house.open();
    await makeOwner(people);
    for (let tries = 0; tries < 19; tries += 1) {
      await trySignIn(people, `account-${tries}`, "wrong wrong wrong");
      good(await trySignIn(people, "nell@ashe.example", PASSWORD));
    }
    await trySignIn(people, "account-19", "wrong wrong wrong");
    expect(await trySignIn(people, "nell@ashe.example", PASSWORD)).toMatchObject({ ok: false });
  });

  it.each([
    ["192.0.2.7", "192.0.2.7"],
    ["::ffff:192.0.2.7", "192.0.2.7"],
    ["2001:db8:1:2:3:4:5:6", "2001:db8:1:2::/64"],
    ["2001:DB8:1:2::9", "2001:db8:1:2::/64"],
    ["2001:0db8:0001:0002::9", "2001:db8:1:2::/64"],
    ["2001:db8::1", "2001:db8:0:0::/64"],
    ["fe80::1%eth0", "fe80:0:0:0::/64"],
    ["::1", "0:0:0:0::/64"],
    ["unknown", "unknown"],
  ])("%s is counted as %s", (address, key) => {
    expect(toAddressKey(address)).toBe(key);
  });
});
