/** How long a session lets somebody in. */
import { describe, expect, it } from "vitest";
import {
  ADDRESS,
  good,
  makeMember,
  makeOwner,
  OTHER_PASSWORD,
  PASSWORD,
  usePeople,
} from "../../support/people.js";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const house = usePeople();

describe("a session", () => {
  it("ends after twelve hours without use, and each use puts that off", async () => {
    const { people, clock } = await house.open();
    const { token } = await makeOwner(people);
    clock.now += 12 * HOUR - 1;
    expect(await people.session(token)).toBeDefined();
    clock.now += 12 * HOUR - 1;
    expect(await people.session(token)).toBeDefined();
    clock.now += 12 * HOUR;
    expect(await people.session(token)).toBeUndefined();
  });

  it("ends after thirty days, however much it is used", async () => {
    const { people, clock } = await house.open();
    const { token } = await makeOwner(people);
    const end = clock.now + 30 * DAY;
    for (; clock.now < end; clock.now += 11 * HOUR) expect(await people.session(token)).toBeDefined();
    clock.now = end;
    expect(await people.session(token)).toBeUndefined();
  });

  it("is written as seen at most once a minute", async () => {
    const { people, clock, database } = await house.open();
    const { token } = await makeOwner(people);
    const seenAt = async (): Promise<number | undefined> =>
      (
        await database.query<{ last_seen_at: Date }>("select last_seen_at from session")
      )[0]?.last_seen_at.getTime();
    const start = clock.now;
    clock.now += MINUTE - 1;
    await people.session(token);
    expect(await seenAt()).toBe(start);
    clock.now += 1;
    await people.session(token);
    expect(await seenAt()).toBe(start + MINUTE);
  });

  it("is kept as a hash: what is in the database lets nobody in", async () => {
    const { people, database } = await house.open();
    const { token } = await makeOwner(people);
    const [row] = await database.query<{ token_hash: string }>("select token_hash from session");
    expect(row?.token_hash).not.toBe(token);
    expect(await people.session(row?.token_hash ?? "")).toBeUndefined();
  });

  it.each(["", "x", "../../etc", "a".repeat(43), `${"a".repeat(42)}\u0000`])(
    "is none for the token %j",
    async (token) => {
      const { people } = await house.open();
      expect(await people.session(token)).toBeUndefined();
    },
  );

  it("ends with its sign-out, and no other one does", async () => {
    const { people } = await house.open();
    const { token, person } = await makeOwner(people);
    const other = good(
      await people.signIn({ account: person.account, password: PASSWORD, address: ADDRESS }),
    ).token;
    await people.signOut(token);
    expect(await people.session(token)).toBeUndefined();
    expect(await people.session(other)).toBeDefined();
  });

  it("ends with all others of the person, and none of anybody else, when she signs out everywhere", async () => {
    const { people } = await house.open();
    const { token, person } = await makeOwner(people);
    const other = good(
      await people.signIn({ account: person.account, password: PASSWORD, address: ADDRESS }),
    ).token;
    const { token: viewers } = await makeMember(people, "viewer");
    await people.signOutEverywhere(person);
    expect([await people.session(token), await people.session(other)]).toEqual([undefined, undefined]);
    expect(await people.session(viewers)).toBeDefined();
    expect((await people.listChanges({ most: 1 }))[0]).toMatchObject({ kind: "signed-out-everywhere" });
  });

  it("that has ended is cleared away by the next sign-in", async () => {
    const { people, clock, database } = await house.open();
    const { person } = await makeOwner(people);
    clock.now += 13 * HOUR;
    good(await people.signIn({ account: person.account, password: PASSWORD, address: ADDRESS }));
    expect(await database.query("select 1 from session")).toHaveLength(1);
  });
});

describe("changing one's own password", () => {
  it("asks for the old one, ends all sessions, and goes on under a new token", async () => {
    const { people } = await house.open();
    const { person, token } = await makeOwner(people);
    const changed = good(
      await people.changePassword(person, {
        oldPassword: PASSWORD,
        newPassword: OTHER_PASSWORD,
        address: ADDRESS,
      }),
    );
    expect(await people.session(token)).toBeUndefined();
    expect(await people.session(changed.token)).toMatchObject({ id: person.id });
    const signIn = (password: string) =>
      people.signIn({ account: person.account, password, address: ADDRESS });
    expect((await signIn(PASSWORD)).ok).toBe(false);
    expect((await signIn(OTHER_PASSWORD)).ok).toBe(true);
  });

  it("says everything that is wrong at once, and changes nothing", async () => {
    const { people } = await house.open();
    const { person, token } = await makeOwner(people);
    const change = { oldPassword: "wrong wrong wrong", newPassword: "short", address: ADDRESS };
    expect(await people.changePassword(person, change)).toMatchObject({
      ok: false,
      error: { kind: "faulty", faults: [{ field: "oldPassword" }, { field: "password" }] },
    });
    expect(await people.session(token)).toBeDefined();
  });

  it("wants another password than the one that is there", async () => {
    const { people } = await house.open();
    const { person } = await makeOwner(people);
    const change = { oldPassword: PASSWORD, newPassword: PASSWORD, address: ADDRESS };
    expect(await people.changePassword(person, change)).toMatchObject({
      error: {
        faults: [{ field: "password", sentence: expect.stringContaining("that you have") as unknown }],
      },
    });
  });

  it("cannot be used to guess the old one: wrong ones are slowed down as sign-ins are", async () => {
    const { people } = await house.open();
    const { person } = await makeOwner(people);
    const guess = () =>
      people.changePassword(person, {
        oldPassword: "wrong wrong wrong",
        newPassword: OTHER_PASSWORD,
        address: ADDRESS,
      });
    for (let tries = 0; tries < 5; tries += 1)
      expect(await guess()).toMatchObject({ error: { kind: "faulty" } });
    expect(await guess()).toMatchObject({
      error: { refusal: { kind: "too-many-tries", retryAfterSeconds: 30 } },
    });
  });
});
