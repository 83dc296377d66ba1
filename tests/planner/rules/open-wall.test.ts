/**
 * Rules 7 and 8 with no open nights: what one crew opens it closes by dark, unit by unit; and the sentences where it
 * cannot. The usual chain here strips and sets windows: 12 labor-hours each in two units, four hours a unit.
 */
import { describe, expect, it } from "vitest";
import type { CompanyInput } from "../../../src/domain/company-schema.js";
import { aCompany, aCrew, aJob, aTask, aWait } from "../../support/company-builder.js";
import { becauseOf, planned, startOf, whyNot, workOf } from "../planned.js";

type TaskChange = NonNullable<Parameters<typeof aTask>[0]>;
const strip = (change: TaskChange = {}) =>
  aTask({
    id: "strip",
    trade: "tear-off",
    title: "Strip the front",
    area: "front",
    laborHours: 12,
    units: 2,
    opens: true,
    ...change,
  });
const close = (change: TaskChange = {}) =>
  aTask({
    id: "close",
    trade: "windows",
    title: "Set the windows",
    area: "front",
    laborHours: 12,
    units: 2,
    closes: true,
    after: [{ task: "strip" }],
    ...change,
  });
const wall = (rest: Partial<CompanyInput> = {}, ...tasks: ReturnType<typeof aTask>[]) =>
  aCompany({ jobs: [aJob({ tasks: tasks.length > 0 ? tasks : [strip(), close()] })], ...rest });

describe("a chain", () => {
  it("is worked unit by unit: each is closed before the next is opened", () => {
    const plan = planned(wall({}, strip({ laborHours: 6 }), close({ laborHours: 6 })));
    expect(workOf(plan, "strip")).toEqual(["alder Tue 16 Mar 07:20-08:20", "alder Tue 16 Mar 09:20-10:20"]);
    expect(workOf(plan, "close")).toEqual(["alder Tue 16 Mar 08:20-09:20", "alder Tue 16 Mar 10:20-11:20"]);
  });

  it("does not begin a unit that cannot be closed before tools-down", () => {
    // The second would run from 11:20 to 15:50; cleanup starts at 15:00.
    const plan = planned(wall());
    expect(workOf(plan, "strip")).toEqual(["alder Tue 16 Mar 07:20-09:20", "alder Wed 17 Mar 07:20-09:20"]);
    expect(workOf(plan, "close")).toEqual(["alder Tue 16 Mar 09:20-11:20", "alder Wed 17 Mar 09:20-11:20"]);
  });

  it("does not begin a unit in December that the shift, but not the light, has time for", () => {
    const crews = [aCrew({ week: { tue: ["07:00", "18:00"], wed: ["07:00", "18:00"] } })];
    const plan = planned(wall({ crews }), "2026-12-08T00:00");
    // Light to 15:49: the second unit would need 11:22 to 15:52, and cleanup.
    expect(startOf(plan, "strip")).toBe("Tue 8 Dec 07:22");
    expect(workOf(plan, "close").at(-1)).toBe("alder Wed 9 Dec 09:23-11:23");
  });

  it("lets a meal break lie inside a unit", () => {
    const one = { laborHours: 9, units: 1 };
    const plan = planned(wall({}, strip(one), close(one)));
    expect(workOf(plan, "close")).toEqual(["alder Tue 16 Mar 10:20-12:00", "alder Tue 16 Mar 12:30-13:50"]);
  });

  it("opens nothing into a hold of the trade that closes it", () => {
    const holds = [
      {
        id: "h1",
        from: "2027-03-16T11:00",
        to: "2027-03-16T12:00",
        trades: ["windows"],
        jobs: "all" as const,
      },
    ];
    const plan = planned(wall({ holds }));
    expect(startOf(plan, "strip")).toBe("Wed 17 Mar 07:20");
    // Were it allowed to stand open, were the shift longer or the hold lifted, it could start on Tuesday.
    expect(becauseOf(plan, "strip")).toMatchObject({ kind: "close-by-dark", also: ["crew-off", "hold"] });
  });

  it("takes the tasks in between into each unit, whatever their own area", () => {
    const sheathe = aTask({ id: "sheathe", trade: "sheathing", laborHours: 6, after: [{ task: "strip" }] });
    const plan = planned(
      wall({}, strip({ laborHours: 6 }), sheathe, close({ laborHours: 6, after: [{ task: "sheathe" }] })),
    );
    expect(workOf(plan, "sheathe")).toEqual([
      "alder Tue 16 Mar 08:20-09:20",
      "alder Tue 16 Mar 11:20-12:00",
      "alder Tue 16 Mar 12:30-12:50",
    ]);
  });

  it("is worked by one crew, although another with one of the trades stands idle", () => {
    const birch = aCrew({ id: "birch", name: "Birch", trades: { windows: 1 } });
    const plan = planned(wall({ crews: [aCrew(), birch] }));
    expect(plan.tasks.map(({ crew }) => crew)).toEqual(["alder", "alder"]);
  });

  it("takes what has been done from the first units", () => {
    const underWay = {
      status: "under-way",
      leftHours: 6,
      doneBy: "alder",
      startedAt: "2027-03-15T09:00",
    } as const;
    const plan = planned(
      wall(
        {},
        strip(underWay),
        close({ status: "under-way", leftHours: 6, doneBy: "alder", startedAt: "2027-03-15T11:00" }),
      ),
    );
    expect(workOf(plan, "strip")).toEqual(["alder Tue 16 Mar 07:20-09:20"]);
    expect(plan.blocks.find((block) => block.task === "strip")?.units).toEqual([2, 2]);
  });

  it("that stands open when the plan begins is closed first", () => {
    const done = {
      status: "done",
      doneBy: "alder",
      startedAt: "2027-03-15T08:00",
      finishedAt: "2027-03-15T15:00",
    } as const;
    const tasks = [aTask(), strip({ units: 1, ...done }), close({ units: 1 })];
    const plan = planned(wall({}, ...tasks));
    expect([startOf(plan, "close"), startOf(plan, "t1")]).toEqual(["Tue 16 Mar 07:20", "Tue 16 Mar 11:20"]);
  });
});

describe("a chain that cannot be", () => {
  it("that stood open in several units asks for no cover-up once the last of them is closed", () => {
    const done = {
      status: "done",
      doneBy: "alder",
      startedAt: "2027-03-15T08:00",
      finishedAt: "2027-03-15T15:00",
    } as const;
    const side = aTask({ id: "side", trade: "siding", laborHours: 60 });
    const plan = planned(wall({}, strip(done), close({ laborHours: 6 }), side));
    expect(workOf(plan, "close")).toEqual(["alder Tue 16 Mar 07:20-08:20", "alder Tue 16 Mar 08:20-09:20"]);
    // To the last minute before cleanup, which takes half an hour of the shift.
    expect(workOf(plan, "side").slice(0, 2)).toEqual([
      "alder Tue 16 Mar 09:20-12:00",
      "alder Tue 16 Mar 12:30-15:00",
    ]);
  });

  it("says that no crew has all its trades", () => {
    const crews = [
      aCrew({ trades: { "tear-off": 1, siding: 1 } }),
      aCrew({ id: "birch", name: "Birch", trades: { windows: 1 } }),
    ];
    const plan = planned(wall({ crews }));
    expect(plan.tasks).toEqual([]);
    expect(whyNot(plan, "strip")).toBe(
      "No crew has all the trades of this chain: Tear-off, Windows. What is opened must be closed by the same crew by dark.",
    );
    expect(whyNot(plan, "close")).toBe(whyNot(plan, "strip"));
  });

  it("says that one unit does not fit into any day's light", () => {
    const one = { laborHours: 30, units: 1 };
    const plan = planned(wall({}, strip(one), close(one)));
    expect(whyNot(plan, "strip")).toBe(
      "One unit of this chain does not fit into any day's light: opened and closed with setup, cleanup and the way. Make the units smaller or send a larger crew.",
    );
  });

  it("says that nothing closes what is opened", () => {
    const plan = planned(wall({}, strip(), close({ area: "back" })));
    expect(whyNot(plan, "strip")).toBe(
      "It opens the wall, but no task of the same area that comes after it closes it. Mark the task that closes it.",
    );
  });

  it("says that the wall would stand open during a wait", () => {
    const inspection = aWait({ after: [{ task: "strip" }] });
    const plan = planned(wall({}, strip(), inspection, close({ after: [{ task: "w1" }] })));
    expect(whyNot(plan, "w1")).toBe(
      'The wall would stand open while "Framing inspection" takes 1 business days, and open nights are not allowed. Let it come before the wall is opened or after it is closed.',
    );
  });

  it("takes what comes after it out of the plan too, and says after what", () => {
    const plan = planned(wall({}, strip(), close({ area: "back" }), aTask({ after: [{ task: "close" }] })));
    expect(whyNot(plan, "t1")).toBe('It comes after "Set the windows", which cannot be planned.');
  });
});
