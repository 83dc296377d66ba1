/** One valid company file, and small edits to it: what the tests of broken files are made of. */
import { formatFault, parseCompany } from "../../src/domain/company-file.js";
import type { CompanyInput } from "../../src/domain/company-schema.js";
import { aCompany, aCrew, aJob, aTask, aTrade, aWait } from "./company-builder.js";

/** A file that uses every part: two crews, a lift, two houses, a wait, work in every status, a hold, a published block. */
export function validFile(): CompanyInput {
  return aCompany({
    trades: [
      aTrade({ id: "tear-off", stamp: "TO" }),
      aTrade({ id: "wrb", stamp: "WB", limits: { minF: 20, maxF: 100 } }),
      aTrade({ id: "siding", stamp: "SD" }),
    ],
    crews: [
      aCrew({ trades: { "tear-off": 1, wrb: 0.9, siding: 1 } }),
      aCrew({
        id: "birch",
        name: "Birch",
        size: 2,
        trades: { siding: 1.2 },
        startsAt: "yard",
        off: [{ from: "2027-03-19", to: "2027-03-20" }],
        extra: [{ date: "2027-03-27", hours: ["07:00", "13:00"] }],
      }),
    ],
    equipment: [{ id: "lift", name: "Boom lift", count: 1 }],
    jobs: [
      aJob({
        promised: "2027-04-02",
        access: ["07:30", "18:00"],
        deliveries: [{ id: "d1", what: "Housewrap", expected: "2027-03-18" }],
        tasks: [
          aTask({
            id: "t1",
            trade: "tear-off",
            area: "front",
            units: 2,
            opens: true,
            status: "done",
            doneBy: "alder",
          }),
          aTask({
            id: "t2",
            trade: "wrb",
            area: "front",
            after: [{ task: "t1" }],
            closes: true,
            needs: ["d1"],
          }),
          aWait({ id: "t3", after: [{ task: "t2" }] }),
          aTask({ id: "t4", after: [{ task: "t3" }], equipment: { lift: 1 }, minCrew: 3 }),
        ],
      }),
      aJob({
        id: "cove-3",
        tasks: [aTask({ status: "under-way", doneBy: "birch", startedAt: "2027-03-15T08:00" })],
      }),
    ],
    holds: [
      { id: "h1", from: "2027-03-17T00:00", to: "2027-03-18T00:00", trades: ["siding"], jobs: ["cove-3"] },
    ],
    published: [
      {
        crew: "birch",
        kind: "work",
        job: "cove-3",
        task: "t1",
        start: "2027-03-16T07:20",
        end: "2027-03-16T12:00",
      },
    ],
  });
}

export type Edit = readonly [path: string, value: unknown];
export const OUT = Symbol("take the field out");

/** The valid file with the value at each dotted path replaced. */
export function edited(edits: readonly Edit[]): unknown {
  const file: unknown = JSON.parse(JSON.stringify(validFile()));
  for (const [path, value] of edits) {
    const keys = path.split(".");
    const last = keys.pop() ?? "";
    let node = file as Record<string, unknown>;
    for (const key of keys) node = node[key] as Record<string, unknown>;
    if (value === OUT) delete node[last];
    else node[last] = value;
  }
  return file;
}

export function faultsOf(input: unknown): string[] {
  const result = parseCompany(input);
  return result.ok ? [] : result.error.map(formatFault);
}

/** A broken file: the rule that refuses it, the edits that break it, the faults in full. */
export type BrokenFile = readonly [rule: string, edits: readonly Edit[], faults: readonly string[]];

/** The last task of the first house: siding, to do, with a lift and a crew of three. */
export const TASK = "jobs.0.tasks.3";
