/** One-time links: the first start, invitations, new passwords. */
import { describe, expect, it } from "vitest";
import { present } from "../../../src/domain/result.js";
import {
  ADDRESS,
  good,
  makeMember,
  makeOwner,
  OTHER_PASSWORD,
  PASSWORD,
  usePeople,
} from "../../support/people.js";

const DAY = 86_400_000;
const NELL = { name: "Nell Ashe", account: "nell", password: PASSWORD };
const GONE = { ok: false, error: { kind: "refused", refusal: { kind: "link-gone" } } };
const house = usePeople();

describe("the first start", () => {
  it("gives a link with which somebody becomes the owner and is signed in", async () => {
    const { people } = await house.open();
    const link = present(await people.firstRun(), "the link");
    expect(await people.findInvitation(link)).toEqual({ purpose: "first-owner", person: undefined });
    const { person, token } = good(await people.redeem(link, { ...NELL, name: "  Nell   Ashe " }));
    expect(person).toMatchObject({ name: "Nell Ashe", account: "nell", role: "owner", hasPassword: true });
    expect(await people.session(token)).toEqual(person);
    expect((await people.listChanges({ most: 9 })).map(({ kind, personName }) => [kind, personName])).toEqual(
      [["first-owner", "Nell Ashe"]],
    );
  });

  it("gives another link each time until somebody is owner, and the one before is void", async () => {
    const { people } = await house.open();
    const first = present(await people.firstRun(), "the link");
    const second = present(await people.firstRun(), "the link");
    expect(await people.redeem(first, NELL)).toMatchObject(GONE);
    good(await people.redeem(second, NELL));
    expect(await people.firstRun()).toBeUndefined();
  });

  it("makes one owner where two use the link at once", async () => {
    const { people } = await house.open();
    const link = present(await people.firstRun(), "the link");
    const both = await Promise.all([
      people.redeem(link, NELL),
      people.redeem(link, { ...NELL, account: "other" }),
    ]);
    expect(both.filter(({ ok }) => ok)).toHaveLength(1);
    expect(await people.list()).toHaveLength(1);
  });

  it("tells everything that is wrong with what was typed at once, and the link stays good", async () => {
    const { people } = await house.open();
    const link = present(await people.firstRun(), "the link");
    expect(await people.redeem(link, { name: " ", account: "two words", password: "short" })).toMatchObject({
      ok: false,
      error: { kind: "faulty", faults: [{ field: "name" }, { field: "account" }, { field: "password" }] },
    });
    expect(await people.findInvitation(link)).toBeDefined();
  });
});

describe("an invitation", () => {
  it("lets the person set a password under the name, account and role that she was given", async () => {
    const { people } = await house.open();
    const { by } = await makeOwner(people);
    const invited = good(await people.invite({ name: "Lou Birch", account: "lou", role: "viewer" }, by));
    expect(await people.findInvitation(invited.token)).toEqual({
      purpose: "welcome",
      person: invited.person,
    });
    const { person } = good(
      await people.redeem(invited.token, { name: "Somebody Else", account: "root", password: PASSWORD }),
    );
    expect(person).toMatchObject({
      id: invited.person.id,
      name: "Lou Birch",
      account: "lou",
      role: "viewer",
    });
  });

  it("is good once", async () => {
    const { people } = await house.open();
    const { by } = await makeOwner(people);
    const { token } = good(await people.invite({ name: "Lou", account: "lou", role: "viewer" }, by));
    good(await people.redeem(token, { ...NELL, account: "" }));
    expect(await people.redeem(token, { ...NELL, password: OTHER_PASSWORD })).toMatchObject(GONE);
    expect(await people.findInvitation(token)).toBeUndefined();
  });

  it("is good for seven days", async () => {
    const { people, clock } = await house.open();
    const { by } = await makeOwner(people);
    const { token } = good(await people.invite({ name: "Lou", account: "lou", role: "viewer" }, by));
    clock.now += 7 * DAY - 1;
    expect(await people.findInvitation(token)).toBeDefined();
    clock.now += 1;
    expect(await people.findInvitation(token)).toBeUndefined();
    expect(await people.redeem(token, NELL)).toMatchObject(GONE);
  });

  it("is void once a newer one has been made, and once the person is disabled", async () => {
    const { people } = await house.open();
    const { by } = await makeOwner(people);
    const { token, person } = good(await people.invite({ name: "Lou", account: "lou", role: "viewer" }, by));
    const seen = { personId: person.id, version: person.version, why: "" };
    const newer = good(await people.makeResetLink(seen, by));
    expect(await people.redeem(token, NELL)).toMatchObject(GONE);
    good(await people.disable(seen, by));
    expect(await people.redeem(newer.token, NELL)).toMatchObject(GONE);
  });

  it("is kept as a hash", async () => {
    const { people, database } = await house.open();
    const link = present(await people.firstRun(), "the link");
    const rows = await database.query<{ token_hash: string }>("select * from invitation");
    expect(JSON.stringify(rows)).not.toContain(link);
    expect(await people.findInvitation(rows[0]?.token_hash ?? "")).toBeUndefined();
  });

  it("is refused for an account that somebody has, in whatever letters, and for what cannot be one", async () => {
    const { people } = await house.open();
    const { by } = await makeOwner(people);
    expect(
      await people.invite({ name: "Lou", account: "NELL@ashe.example", role: "viewer" }, by),
    ).toMatchObject({
      error: {
        kind: "faulty",
        faults: [
          { field: "account", sentence: expect.stringContaining("Nell Ashe has the account") as unknown },
        ],
      },
    });
    expect(await people.invite({ name: "L\u0000u", account: "", role: undefined }, by)).toMatchObject({
      error: { faults: [{ field: "name" }, { field: "account" }, { field: "role" }] },
    });
    expect(await people.list()).toHaveLength(1);
  });

  it("for one account reaches one person where two make it at once", async () => {
    const { people } = await house.open();
    const { by } = await makeOwner(people);
    const invite = (account: string) => people.invite({ name: "Lou", account, role: "viewer" }, by);
    const both = await Promise.all([invite("lou"), invite("LOU"), invite("Lou")]);
    expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  });
});

describe("a link that resets a password", () => {
  it("leaves the old password good until it is used, and then ends it and every session", async () => {
    const { people } = await house.open();
    const { by } = await makeOwner(people);
    const { person, token } = await makeMember(people, "dispatcher");
    const link = good(
      await people.makeResetLink({ personId: person.id, version: person.version, why: "lost it" }, by),
    );
    expect(await people.findInvitation(link.token)).toMatchObject({ purpose: "reset" });
    expect(await people.session(token)).toBeDefined();
    const { token: newToken } = good(await people.redeem(link.token, { ...NELL, password: OTHER_PASSWORD }));
    expect([await people.session(token), (await people.session(newToken))?.id]).toEqual([
      undefined,
      person.id,
    ]);
    const signIn = (password: string) => people.signIn({ account: "dispatcher", password, address: ADDRESS });
    expect([(await signIn(PASSWORD)).ok, (await signIn(OTHER_PASSWORD)).ok]).toEqual([false, true]);
  });

  it("is good for one day", async () => {
    const { people, clock } = await house.open();
    const { by, person } = await makeOwner(people);
    const { token } = good(
      await people.makeResetLink({ personId: person.id, version: person.version, why: "" }, by),
    );
    clock.now += DAY;
    expect(await people.findInvitation(token)).toBeUndefined();
  });

  it("ends the wait that wrong passwords have brought about", async () => {
    const { people } = await house.open();
    const { by, person } = await makeOwner(people);
    const signIn = (password: string) =>
      people.signIn({ account: person.account, password, address: ADDRESS });
    for (let tries = 0; tries < 6; tries += 1) await signIn("wrong wrong wrong");
    expect(await signIn(PASSWORD)).toMatchObject({ error: { kind: "too-many-tries" } });
    const link = good(
      await people.makeResetLink({ personId: person.id, version: person.version, why: "" }, by),
    );
    good(await people.redeem(link.token, { ...NELL, password: OTHER_PASSWORD }));
    expect((await signIn(OTHER_PASSWORD)).ok).toBe(true);
  });
});
