/**
 * Small slips and the ways out of them: companies of one or two crews and two houses, before and after something has
 * happened. Tuesday 16 March 2027 is the day of the plan; every way that is asked for has passed the independent checker.
 */
import { expect } from "vitest";
import type { CompanyInput } from "../../src/domain/company-schema.js";
import { present } from "../../src/domain/result.js";
import { civilDate } from "../../src/domain/time.js";
import { formatBroken } from "../../src/planner/check/broken-rule.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import { listWaysOut } from "../../src/planner/ways-out.js";
import type { Permissions, WayOut } from "../../src/planner/ways-out/way-out.js";
import { aCompany, aCrew, aJob, aTask, parsed } from "../support/company-builder.js";
import { minuteOf, planned, TUESDAY, workOf } from "./planned.js";

export const NOTHING: Permissions = { resequence: false, lend: false, stretch: [], saturday: [] };

/** The ways out of what lies between two files. */
export function waysOut(
  before: CompanyInput,
  after: CompanyInput,
  permissions: Partial<Permissions> = {},
  publishes = false,
): readonly WayOut[] {
  const standing = planned(before);
  const company = parsed(publishes ? { ...after, published: standing.blocks } : after);
  const asOf = minuteOf(company, TUESDAY);
  const ways = listWaysOut(company, {
    asOf,
    seed: 1,
    iterations: 40,
    standing,
    permissions: { ...NOTHING, ...permissions },
  });
  for (const way of ways) expect(checkPlan(way.company, way.explain()).map(formatBroken)).toEqual([]);
  return ways;
}

export function wayOf(ways: readonly WayOut[], key: string): WayOut {
  return present(
    ways.find((way) => way.key === key),
    `the way "${key}" among ${ways.map((way) => way.key).join(", ")}`,
  );
}

export const work = (way: WayOut, task: string): string[] => workOf(way.explain(), task);

/** Two houses, a day's work (3 people, 8 hours less setup, break and cleanup) at each. */
export const ELM = { id: "elm-3", name: "3 Elm Court", site: { lat: 43.64, lon: -70.27 } };
export const sideSpruce = aTask({ id: "spruce", laborHours: 20 });
export const sideElm = aTask({ id: "elm", laborHours: 20 });

export function twoHouses(
  edits: { crews?: CompanyInput["crews"]; holds?: CompanyInput["holds"] } & {
    spruce?: Partial<ReturnType<typeof aJob>>;
    elm?: Partial<ReturnType<typeof aJob>>;
  } = {},
): CompanyInput {
  const { spruce, elm, ...rest } = edits;
  return aCompany({
    policy: { freezeDays: 0 },
    jobs: [
      aJob({ promised: "2027-03-16", tasks: [sideSpruce], ...spruce }),
      aJob({ ...ELM, promised: "2027-03-17", tasks: [sideElm], ...elm }),
    ],
    ...rest,
  });
}

export const birch = aCrew({ id: "birch", name: "Birch", lead: "Ansel" });
export const rainOnTuesday = {
  id: "h1",
  from: "2027-03-16T00:00",
  to: "2027-03-17T00:00",
  trades: "outdoor" as const,
  jobs: ["spruce-14"],
  why: "rain",
};
/** The house that comes second is promised for the first day now. */
export const sooner = twoHouses({ spruce: { promised: "2027-03-19" }, elm: { promised: "2027-03-16" } });

export function alderOut(spruce: Partial<ReturnType<typeof aJob>> = {}, other = birch): CompanyInput {
  const off = [{ from: "2027-03-16", to: "2027-03-18", why: "ill" }];
  return twoHouses({ crews: [aCrew({ off }), other], spruce });
}

export function needingSiding(expected: string): CompanyInput {
  const deliveries = [{ id: "d1", what: "siding", expected }];
  return twoHouses({ spruce: { deliveries, tasks: [aTask({ ...sideSpruce, needs: ["d1"] })] } });
}

export const rot = aTask({ id: "rot", title: "Rot found", laborHours: 6, after: [{ task: "strip" }] });

/** Three hours and three hours at Spruce Lane; with more tasks there, the second waits for them unless it need not. */
export function stripAndSide(
  more: ReturnType<typeof aTask>[],
  isApart = false,
  spruce: Partial<ReturnType<typeof aJob>> = { promised: null },
): CompanyInput {
  const after = [{ task: more.length > 0 && !isApart ? "rot" : "strip" }];
  const tasks = [aTask({ id: "strip", laborHours: 9 }), ...more, aTask({ id: "side", laborHours: 9, after })];
  return twoHouses({ crews: [aCrew(), birch], spruce: { ...spruce, tasks } });
}

/** One house promised for Saturday, with so many hours to do from Tuesday on; about 80 fit into the week. */
export function oneLong(
  laborHours: number,
  policy: CompanyInput["policy"] = { weeklyHours: 60 },
): CompanyInput {
  return aCompany({
    policy: { freezeDays: 0, ...policy },
    jobs: [aJob({ promised: "2027-03-20", tasks: [aTask({ id: "long", laborHours })] })],
  });
}

export const days = (...dates: string[]) => dates.map(civilDate);
