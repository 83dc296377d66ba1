/** What a company file would change against what stands. */
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { buildCompanyDifference } from "../../src/board/company-difference-view.js";
import type { Source } from "../../src/domain/company-parts.js";
import { anyCompanyFile } from "../support/company-arbitrary.js";
import { aCompany, aCrew, aJob, aTask } from "../support/company-builder.js";

const asSource = (company: unknown): Source => JSON.parse(JSON.stringify(company)) as Source;
const ONE = aJob({
  id: "one",
  name: "1 Pier Lane",
  tasks: [aTask({ id: "t1" }), aTask({ id: "t2", title: "Trim" })],
});
const TWO = aJob({ id: "two", name: "2 Pier Lane" });
const STANDING = asSource(aCompany({ jobs: [ONE, TWO] }));

const kindsOf = (after: Source) =>
  buildCompanyDifference(STANDING, after).kinds.filter(
    ({ added, removed, changedCount }) => added.count + removed.count + changedCount > 0,
  );

describe("the difference of two company files", () => {
  it("names by kind what comes, goes and differs", () => {
    const three = aJob({ id: "three", name: "3 Pier Lane" });
    const one = { ...ONE, promised: "2026-12-08", tasks: [aTask({ id: "t1", laborHours: 8 })] };
    const after = asSource(aCompany({ jobs: [one, three] }));
    expect(buildCompanyDifference(STANDING, after).summary).toBe("1 added, 2 removed, 2 changed");
    expect(kindsOf(after)).toEqual([
      {
        kind: "Houses",
        added: { count: 1, names: ["3 Pier Lane"] },
        removed: { count: 1, names: ["2 Pier Lane"] },
        changed: [
          { name: "1 Pier Lane", fields: [{ name: "Promised date", before: "", after: "Tue 8 Dec 2026" }] },
        ],
        changedCount: 1,
        sameCount: 0,
      },
      {
        kind: "Tasks",
        added: { count: 0, names: [] },
        removed: { count: 1, names: ["Trim, 1 Pier Lane"] },
        changed: [
          { name: "Side the front, 1 Pier Lane", fields: [{ name: "Labor-hours", before: "6", after: "8" }] },
        ],
        changedCount: 1,
        sameCount: 0,
      },
    ]);
  });

  it("is everything where nothing stands yet", () => {
    const difference = buildCompanyDifference(undefined, STANDING);
    expect(difference.summary).toBe("16 added");
    expect(difference.kinds.map(({ kind, added }) => [kind, added.count])).toEqual([
      ["Company", 1],
      ["Trades", 10],
      ["Crews", 1],
      ["Houses", 2],
      ["Tasks", 2],
    ]);
  });

  it("shows the first twenty of many and counts the rest", () => {
    const crews = Array.from({ length: 30 }, (_, nth) => aCrew({ id: `c${nth}`, name: `Crew ${nth}` }));
    const [kind] = kindsOf(asSource(aCompany({ jobs: [ONE, TWO], crews: [aCrew(), ...crews] })));
    expect([kind?.added.count, kind?.added.names.length]).toEqual([30, 20]);
  });

  it("is nothing between a company and itself, and all of the one and all of the other between strangers", () => {
    fc.assert(
      fc.property(anyCompanyFile(), anyCompanyFile(), (left, right) => {
        const [one, other] = [asSource(left.input), asSource(right.input)];
        expect(buildCompanyDifference(one, one)).toMatchObject({ isSame: true, summary: "nothing" });
        const count = (source: Source): number =>
          buildCompanyDifference(undefined, source).kinds.reduce((sum, { added }) => sum + added.count, 0);
        const there = buildCompanyDifference(one, other);
        const back = buildCompanyDifference(other, one);
        const sum = (value: typeof there, of: (kind: (typeof there.kinds)[number]) => number): number =>
          value.kinds.reduce((total, kind) => total + of(kind), 0);
        // What comes one way goes the other way, and every part is accounted for.
        expect(sum(there, ({ added }) => added.count)).toBe(sum(back, ({ removed }) => removed.count));
        expect(sum(there, ({ changedCount }) => changedCount)).toBe(
          sum(back, ({ changedCount }) => changedCount),
        );
        expect(sum(there, (kind) => kind.added.count + kind.changedCount + kind.sameCount)).toBe(
          count(other),
        );
      }),
      { numRuns: 40 },
    );
  });
});
