/** What an owner does about people, and that an owner remains. */
import { describe, expect, it } from "vitest";
import type { Person } from "../../../src/domain/person.js";
import type { People } from "../../../src/services/people.js";
import { ADDRESS, good, makeMember, makeOwner, PASSWORD, usePeople } from "../../support/people.js";

const house = usePeople();
const seen = (person: Person, why = "") => ({ personId: person.id, version: person.version, why });

async function kindsOf(people: People): Promise<readonly string[]> {
  return (await people.listChanges({ most: 50 })).map(({ kind }) => kind);
}

describe("a change of a role", () => {
  it("takes effect at once, in sessions that are under way, and is on record with who, before, after and why", async () => {
    const { people, clock } = await house.open();
    const { by } = await makeOwner(people);
    const { person, token } = await makeMember(people, "viewer");
    clock.now += 5_000;
    const after = good(await people.changeRole(seen(person, " plans  with us\nnow "), "dispatcher", by));
    expect(await people.session(token)).toEqual(after);
    expect(after).toMatchObject({ role: "dispatcher", version: person.version + 1 });
    expect((await people.listChanges({ most: 1 }))[0]).toMatchObject({
      madeAt: new Date(clock.now),
      personId: by.personId,
      personName: "Nell Ashe",
      kind: "role-changed",
      sentence: "Made Test viewer dispatcher, who was viewer.",
      why: "plans with us now",
      subject: { personId: person.id },
      before: { role: "viewer" },
      after: { role: "dispatcher" },
    });
  });

  it("to the role that the person has is none", async () => {
    const { people } = await house.open();
    const { by } = await makeOwner(people);
    const { person } = await makeMember(people, "viewer");
    expect(await people.changeRole(seen(person), "viewer", by)).toMatchObject({
      error: { kind: "already-so" },
    });
  });

  it("that was made for the person as she was before another change is refused, with who did what", async () => {
    const { people } = await house.open();
    const { by } = await makeOwner(people);
    const { person } = await makeMember(people, "viewer");
    good(await people.changeRole(seen(person), "dispatcher", by));
    const stale = await people.changeRole(seen(person), "owner", by);
    expect(stale).toMatchObject({ error: { kind: "stale" } });
    expect(stale.ok ? "" : stale.error.sentence).toContain(
      "The last change, by Nell Ashe: Made Test viewer dispatcher, who was viewer.",
    );
  });

  it("of somebody who is not there is refused", async () => {
    const { people } = await house.open();
    const { by } = await makeOwner(people);
    expect(await people.changeRole({ personId: 99, version: 1, why: "" }, "viewer", by)).toMatchObject({
      error: { kind: "unknown" },
    });
  });
});

describe("a person who is disabled", () => {
  it("is out at once, cannot sign in, and is let in again by enabling", async () => {
    const { people } = await house.open();
    const { by } = await makeOwner(people);
    const { person, token } = await makeMember(people, "dispatcher");
    const signIn = () => people.signIn({ account: "dispatcher", password: PASSWORD, address: ADDRESS });
    const disabled = good(await people.disable(seen(person), by));
    expect(await people.session(token)).toBeUndefined();
    expect(await signIn()).toMatchObject({ error: { kind: "not-recognised" } });
    good(await people.enable(seen(disabled), by));
    expect(await people.session(token)).toBeUndefined();
    good(await signIn());
    expect((await kindsOf(people)).slice(0, 2)).toEqual(["person-enabled", "person-disabled"]);
  });

  it("is given no link before being enabled", async () => {
    const { people } = await house.open();
    const { by } = await makeOwner(people);
    const { person } = await makeMember(people, "viewer");
    const disabled = good(await people.disable(seen(person), by));
    expect(await people.makeResetLink(seen(disabled), by)).toMatchObject({ error: { kind: "disabled" } });
  });
});

describe("the last owner who can sign in", () => {
  it("stays owner and stays enabled, and the refused change leaves no trace", async () => {
    const { people } = await house.open();
    const { person, token, by } = await makeOwner(people);
    good(await people.invite({ name: "Lou", account: "lou", role: "owner" }, by));
    const before = await kindsOf(people);
    for (const refused of [
      await people.disable(seen(person), by),
      await people.changeRole(seen(person), "viewer", by),
    ]) {
      expect(refused).toMatchObject({ error: { kind: "last-owner" } });
    }
    expect(await people.session(token)).toEqual(person);
    expect(await kindsOf(people)).toEqual(before);
  });

  it("may go once another owner can sign in", async () => {
    const { people } = await house.open();
    const { person } = await makeOwner(people);
    const other = await makeMember(people, "owner");
    good(await people.disable(seen(person), other.by));
  });

  it("remains where two owners each disable the other at the same time", async () => {
    const { people } = await house.open();
    const first = await makeOwner(people);
    const second = await makeMember(people, "owner");
    const both = await Promise.all([
      people.disable(seen(first.person), second.by),
      people.disable(seen(second.person), first.by),
    ]);
    expect(both.filter(({ ok }) => ok)).toHaveLength(1);
    expect((await people.list()).filter(({ isDisabled }) => !isDisabled)).toHaveLength(1);
  });
});

it("the record of people holds neither password hashes nor tokens", async () => {
  const { people, database } = await house.open();
  const { by } = await makeOwner(people);
  const { person, token } = await makeMember(people, "viewer");
  const link = good(await people.makeResetLink(seen(person), by));
  const crewLink = good(await people.makePrivateLink("crew", { id: "alder", name: "Alder" }, by));
  const record = JSON.stringify(await database.query("select * from people_change"));
  for (const secret of [token, link.token, crewLink, "scrypt", PASSWORD])
    expect(record).not.toContain(secret);
});
