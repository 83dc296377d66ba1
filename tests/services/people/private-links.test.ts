/** Links for crew leads: whose sheets they open, how long, and how they end. */
import { describe, expect, it } from "vitest";
import { COMMAND_LINE as BY, good, usePeople } from "../../support/people.js";

const DAY = 86_400_000;
const ALDER = { id: "alder", name: "Alder" };
const BIRCH = { id: "birch", name: "Birch" };
const house = usePeople();

describe("a crew link", () => {
  it("opens the sheets of its crew", async () => {
    const { people } = await house.open();
    const alder = good(await people.makePrivateLink("crew", ALDER, BY));
    const birch = good(await people.makePrivateLink("crew", BIRCH, BY));
    expect((await people.openPrivateLink("crew", alder))?.subject).toBe("alder");
    expect((await people.openPrivateLink("crew", birch))?.subject).toBe("birch");
  });

  it("opens nothing once it is renewed, once it is taken back, and after 180 days", async () => {
    const { people, clock } = await house.open();
    const first = good(await people.makePrivateLink("crew", ALDER, BY));
    const second = good(await people.renewPrivateLink("crew", ALDER, BY));
    expect([
      await people.openPrivateLink("crew", first),
      (await people.openPrivateLink("crew", second))?.subject,
    ]).toEqual([undefined, "alder"]);
    good(await people.revokePrivateLink("crew", ALDER, BY));
    expect(await people.openPrivateLink("crew", second)).toBeUndefined();
    const third = good(await people.makePrivateLink("crew", ALDER, BY));
    clock.now += 180 * DAY - 1;
    expect(await people.openPrivateLink("crew", third)).toBeDefined();
    clock.now += 1;
    expect(await people.openPrivateLink("crew", third)).toBeUndefined();
    // One that has run out is in nobody's way.
    good(await people.makePrivateLink("crew", ALDER, BY));
  });

  it("is one for each crew: a second one is only made by renewing, also where two make one at once", async () => {
    const { people } = await house.open();
    const both = await Promise.all([
      people.makePrivateLink("crew", ALDER, BY),
      people.makePrivateLink("crew", ALDER, BY),
    ]);
    expect(both.filter(({ ok }) => ok)).toHaveLength(1);
    expect(both.find(({ ok }) => !ok)).toMatchObject({ error: { kind: "already-so" } });
    expect(await people.listPrivateLinks("crew")).toHaveLength(1);
  });

  it("cannot be renewed or taken back where there is none", async () => {
    const { people } = await house.open();
    expect(await people.renewPrivateLink("crew", ALDER, BY)).toMatchObject({ error: { kind: "unknown" } });
    expect(await people.revokePrivateLink("crew", ALDER, BY)).toMatchObject({ error: { kind: "unknown" } });
  });

  it("is kept as a hash, with its last four characters to tell it by", async () => {
    const { people, database } = await house.open();
    const token = good(await people.makePrivateLink("crew", ALDER, BY));
    expect(token).toMatch(/^[\w-]{43}$/);
    const rows = JSON.stringify(await database.query("select * from private_link"));
    expect(rows).not.toContain(token);
    expect((await people.listPrivateLinks("crew"))[0]?.ending).toBe(token.slice(-4));
  });

  it("is written as used at most once a minute", async () => {
    const { people, clock } = await house.open();
    const token = good(await people.makePrivateLink("crew", ALDER, BY));
    const usedAt = async (): Promise<number | undefined> =>
      (await people.listPrivateLinks("crew"))[0]?.lastUsedAt?.getTime();
    expect(await usedAt()).toBeUndefined();
    const first = clock.now;
    await people.openPrivateLink("crew", token);
    clock.now += 59_999;
    await people.openPrivateLink("crew", token);
    expect(await usedAt()).toBe(first);
    clock.now += 1;
    await people.openPrivateLink("crew", token);
    expect(await usedAt()).toBe(clock.now);
  });

  it("is on record when it is made, renewed and taken back", async () => {
    const { people } = await house.open();
    good(await people.makePrivateLink("crew", ALDER, BY));
    good(await people.renewPrivateLink("crew", ALDER, BY));
    good(await people.revokePrivateLink("crew", ALDER, BY));
    const record = await people.listChanges({ most: 9 });
    expect(record.map(({ kind, subject }) => [kind, subject])).toEqual([
      ["crew-link-revoked", { crewId: "alder" }],
      ["crew-link-renewed", { crewId: "alder" }],
      ["crew-link-made", { crewId: "alder" }],
    ]);
  });
});
