/**
 * Each reason in a small company in which it binds (because-examples.ts). With exactly that constraint lifted and the
 * company planned again the task starts earlier; with any of those lifted that do not bind, it does not.
 */
import { describe, expect, it } from "vitest";
import { becauseKinds } from "../../src/domain/plan-format.js";
import { aCrew } from "../support/company-builder.js";
import { birch, EXAMPLES, house, NOT_BINDING, withJob, withTask } from "./because-examples.js";
import { becauseOf, planned, startOf, TUESDAY } from "./planned.js";

describe.each(EXAMPLES)(
  "$kind",
  ({ kind, asOf = TUESDAY, company, without, starts, startsWithout, says }) => {
    it(`holds the task back until ${starts}, and says so`, () => {
      const plan = planned(company, asOf);
      expect(startOf(plan, "t1")).toBe(starts);
      expect(becauseOf(plan, "t1")).toMatchObject({ kind, text: { en: says } });
    });

    it(`lifted, lets it start ${startsWithout}`, () => {
      expect(startOf(planned(without, asOf), "t1")).toBe(startsWithout);
    });

    it.each(Object.entries(NOT_BINDING))("is not helped by lifting %s", (_, lift) => {
      expect(startOf(planned(lift(company, kind), asOf), "t1")).toBe(starts);
    });
  },
);

describe("start-of-plan", () => {
  it("is the reason of what starts with the plan: an hour earlier it would have started an hour earlier", () => {
    const company = house({ trade: "shop" });
    const plan = planned(company, "2027-03-16T10:00");
    expect(startOf(plan, "t1")).toBe("Tue 16 Mar 10:00");
    expect(becauseOf(plan, "t1")).toMatchObject({ kind: "start-of-plan", by: null, until: null });
    expect(startOf(planned(company, "2027-03-16T09:00"), "t1")).toBe("Tue 16 Mar 09:00");
  });
});

describe("a reason", () => {
  it("has an example for each kind that there is", () => {
    expect([...EXAMPLES.map(({ kind }) => kind), "start-of-plan"].sort()).toEqual([...becauseKinds].sort());
  });

  it("lets go no later than the task starts, and never names the task itself", () => {
    for (const { company, asOf } of EXAMPLES) {
      const plan = planned(company, asOf);
      for (const { task, start, because } of plan.tasks) {
        expect(because.by?.task).not.toBe(task);
        if (because.until !== null) expect(Date.parse(because.until)).toBeLessThanOrEqual(Date.parse(start));
      }
    }
  });

  it("of two that bind only together is the last in the order of the rules, and names the other", () => {
    // The house opens at 10:00, and setup takes until 10:20: with either lifted alone, the other still holds.
    const company = house({ notBefore: "2027-03-16T10:20" }, {}, { access: ["10:00", "18:00"] });
    expect(becauseOf(planned(company), "t1")).toMatchObject({ kind: "not-before", also: ["access"] });
    expect(startOf(planned(withTask(company, { notBefore: null })), "t1")).toBe("Tue 16 Mar 10:20");
    expect(startOf(planned(withJob(company, () => ({ access: null }))), "t1")).toBe("Tue 16 Mar 10:20");
  });

  it("is no cure that is over before the crew could have come anyway", () => {
    // Siding ends Tuesday at tools-down and is dry four hours later; with no cure Birch comes on Wednesday all the same.
    const after = (lagHours: number) =>
      house({ crew: "birch", after: [{ task: "t0", lagHours }] }, { crews: [aCrew(), birch] }, {}, [
        { id: "t0", crew: "alder", laborHours: 21.5 },
      ]);
    expect(startOf(planned(after(4)), "t1")).toBe("Wed 17 Mar 07:20");
    expect(startOf(planned(after(0)), "t1")).toBe("Wed 17 Mar 07:20");
    expect(becauseOf(planned(after(4)), "t1").kind).not.toBe("curing");
  });
});
