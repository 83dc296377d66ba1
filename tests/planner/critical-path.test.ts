/**
 * A published worked example of the critical-path method: seven activities, 16 hours, critical path A-B-D-E-G.
 * Source: course handout "Example 1: Draw the network for the events in Table 1", studylib.net document 8378728.
 *
 * A company comes down to it when everybody works around the clock: one-person crews enough for all that runs at one
 * time, work indoors with no setup, cleanup or way, a shift from 00:00 to 24:00 every day, no meal break.
 */
import { describe, expect, it } from "vitest";
import { WEEKDAYS } from "../../src/domain/time.js";
import { present } from "../../src/domain/result.js";
import { aCompany, aCrew, aJob, aTask } from "../support/company-builder.js";
import { becauseOf, planned } from "./planned.js";

const ACTIVITIES: readonly (readonly [id: string, hours: number, after: readonly string[]])[] = [
  ["A", 6, []],
  ["B", 2, ["A"]],
  ["C", 2, ["A"]],
  ["D", 3, ["B"]],
  ["F", 2, ["C"]],
  ["E", 4, ["D", "F"]],
  ["G", 1, ["E"]],
];
const EARLY_STARTS = { A: 0, B: 6, C: 6, D: 8, F: 8, E: 11, G: 15 };

const aroundTheClock: [string, string] = ["00:00", "24:00"];
const company = aCompany({
  policy: { breakMinutes: 0 },
  crews: ["one", "two", "three"].map((id) =>
    aCrew({
      id,
      size: 1,
      trades: { shop: 1 },
      week: Object.fromEntries(WEEKDAYS.map((day) => [day, aroundTheClock])),
    }),
  ),
  jobs: [
    aJob({
      tasks: ACTIVITIES.map(([id, laborHours, after]) =>
        aTask({ id, title: id, trade: "shop", laborHours, after: after.map((task) => ({ task })) }),
      ),
    }),
  ],
});

describe("the worked example of the critical-path method", () => {
  const plan = planned(company, "2027-05-03T00:00");
  const hoursFrom = (time: string) => (Date.parse(time) - Date.parse(plan.asOf)) / 3_600_000;

  it("has each activity start at its published early start", () => {
    const starts = Object.fromEntries(plan.tasks.map(({ task, start }) => [task, hoursFrom(start)]));
    expect(starts).toEqual(EARLY_STARTS);
  });

  it("takes 16 hours", () => {
    expect(Math.max(...plan.tasks.map(({ end }) => hoursFrom(end)))).toBe(16);
  });

  it("has the critical path as the chain of reasons behind its last activity", () => {
    const path = ["G"];
    for (let { by } = becauseOf(plan, "G"); by !== null; { by } = becauseOf(plan, by.task))
      path.unshift(by.task);
    expect(path.join("-")).toBe("A-B-D-E-G");
    expect(becauseOf(plan, present(path[0], "the first activity")).kind).toBe("start-of-plan");
  });
});
