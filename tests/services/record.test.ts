/** Reading the record: what of it is listed, and that a house is more than its own part. */
import { describe, expect, it } from "vitest";
import { openRecord } from "../../src/services/record.js";
import { aCompany, aJob, aTask } from "../support/company-builder.js";
import { CASEY, ROBIN, useDesks } from "../support/desk.js";

const COMPANY = aCompany({
  jobs: [
    aJob({ id: "one", name: "1 Pier Lane", tasks: [aTask()] }),
    aJob({ id: "one-2", name: "1A Pier Lane", tasks: [aTask()] }),
  ],
});
const BEGUN = {
  status: "under-way",
  leftHours: null,
  doneBy: "alder",
  startedAt: null,
  finishedAt: null,
} as const;

describe("the record", () => {
  const desks = useDesks({ now: () => new Date("2026-12-03T21:00:00Z") });

  it("lists what touched a house, its tasks among it, and nothing of a house with a longer name", async () => {
    const desk = await desks.open(COMPANY);
    const record = openRecord(await desks.database());
    await desk.make({ kind: "task-progress", job: "one", task: "t1", input: BEGUN }, CASEY);
    await desk.make({ kind: "task-progress", job: "one-2", task: "t1", input: BEGUN }, CASEY);
    await desk.make({ kind: "promise-moved", job: "one-2", promised: "2099-01-01" }, CASEY);
    const versions = async (touching: readonly string[]): Promise<readonly number[]> =>
      (await record.list({ touching, limit: 10 })).map(({ version }) => version);
    expect(await versions(["job/one", "task/one/"])).toEqual([2, 1]);
    expect(await versions(["task/one-2/"])).toEqual([3, 1]);
    expect(await versions(["task/one"])).toEqual([]);
    expect(await versions([])).toEqual([]);
  });

  it("finds a change by its version, and says who and what kinds it has", async () => {
    const desk = await desks.open(COMPANY);
    const record = openRecord(await desks.database());
    await desk.make({ kind: "task-progress", job: "one", task: "t1", input: BEGUN, why: "called in" }, CASEY);
    expect(await record.find(2)).toMatchObject({
      personName: CASEY.personName,
      why: "called in",
      undoneBy: null,
    });
    expect(await record.find(3)).toBeUndefined();
    expect(await record.names()).toEqual({
      personNames: [CASEY.personName, ROBIN.personName],
      kinds: ["company-loaded", "task-progress"],
    });
  });
});
