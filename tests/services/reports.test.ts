/** Reports from site at the desk: taken once, kept whatever they meet, and what each makes of the forecast. */
import { describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { civilDate, parseInstant, type Minute } from "../../src/domain/time.js";
import { checkPlan } from "../../src/planner/check/check-plan.js";
import { makeFixedClock } from "../../src/services/clock.js";
import type { OpenDesk } from "../../src/services/company-desk.js";
import { OTHER_UNDER_KEY, type ReportInput } from "../../src/services/report-action.js";
import { replayPlan } from "../../src/services/replay.js";
import { openSiteReports } from "../../src/services/site-reports.js";
import { listChanges } from "../../src/store/record-store.js";
import type { SiteReport } from "../../src/domain/site-report.js";
import { aCompany, aCrew, aJob, aTask, aWait } from "../support/company-builder.js";
import { CASEY, ROBIN, useDesks } from "../support/desk.js";
import { ScriptedWorker } from "./scripted-worker.js";
import { aReport, damage, DONE, left, short, START, STRETCH, STUCK } from "../support/site-reports.js";

const at = (wall: string): Minute => present(parseInstant(wall, "America/New_York"), `the time ${wall}`);
/** A Thursday. */
const NOW = at("2026-12-03T10:00");
const NOOR = { personId: null, personName: "Noor" };

/** Alder sides the front, then the back; Birch has its own house. */
const COMPANY = aCompany({
  crews: [aCrew(), aCrew({ id: "birch", name: "Birch", lead: "Ines" })],
  jobs: [
    aJob({
      promised: "2026-12-04",
      tasks: [
        aTask({ crew: "alder", laborHours: 12 }),
        aTask({ id: "t2", title: "Side the back", crew: "alder", after: [{ task: "t1" }] }),
        aWait({ after: [{ task: "t2" }] }),
      ],
    }),
    aJob({ id: "cove-3", name: "3 Cove Street", tasks: [aTask({ id: "c1", crew: "birch" })] }),
  ],
});

const desks = useDesks({ clock: makeFixedClock(NOW), now: () => new Date(NOW * 60_000) });

async function open(): Promise<{
  readonly desk: OpenDesk;
  readonly say: (input: ReportInput) => Promise<SiteReport>;
}> {
  const desk = await desks.open(COMPANY);
  const reports = openSiteReports(await desks.database(), makeFixedClock(NOW));
  const say = async (input: ReportInput): Promise<SiteReport> => {
    const taken = await desk.report(input, NOOR);
    expect(taken).toEqual({ ok: true, value: "taken" });
    return present(await reports.find(input.key), "the report that was taken");
  };
  return { desk, say };
}

const taskOf = (desk: OpenDesk, job: string, task: string) =>
  desk
    .current()
    .company.jobs.find(({ id }) => id === job)
    ?.tasks.find(({ id }) => id === task);

describe("a report that is sent twice", () => {
  it("is taken once, and the second time said to be taken before", async () => {
    const { desk } = await open();
    const report = aReport(damage(4));
    expect(await desk.report(report, NOOR)).toEqual({ ok: true, value: "taken" });
    const version = desk.current().version;
    expect(await desk.report(report, NOOR)).toEqual({ ok: true, value: "taken-before" });
    expect(desk.current().version).toBe(version);
    expect(taskOf(desk, "spruce-14", "t1")?.laborHours).toBe(16);
  });

  it("at the same moment to two servers is taken once as well", async () => {
    const { desk } = await open();
    const other = await desks.open();
    const report = aReport(damage(4));
    const taken = await Promise.all([desk.report(report, NOOR), other.report(report, NOOR)]);
    expect(new Set(taken.map((one) => one.ok && one.value))).toEqual(new Set(["taken", "taken-before"]));
    expect(taskOf(other, "spruce-14", "t1")?.laborHours).toBe(16);
  });

  it("with something else under the same key is not taken for the first one", async () => {
    const { desk } = await open();
    const report = aReport(left(4));
    await desk.report(report, NOOR);
    const second = await desk.report({ ...report, body: left(9) }, NOOR);
    expect(second).toMatchObject({ ok: false, error: { refusal: { kind: OTHER_UNDER_KEY } } });
    expect(taskOf(desk, "spruce-14", "t1")?.leftHours).toBe(4);
  });
});

describe("a report, where nobody wants to wait for the plan,", () => {
  it("is answered when it is kept, the office's open pages hear of it, and the plan follows by itself", async () => {
    const worker = new ScriptedWorker();
    const desk = await desks.open(COMPANY, { worker });
    const reports = openSiteReports(await desks.database(), makeFixedClock(NOW));
    const before = await reports.standing();
    let planNow: () => void = () => undefined;
    worker.gate = new Promise<void>((resolve) => (planNow = resolve));
    let told = 0;
    desk.onChange(() => (told += 1));
    const report = aReport(DONE);
    expect(await desk.report(report, NOOR, 0)).toEqual({ ok: true, value: "taken" });
    expect(await reports.find(report.key)).toMatchObject({ applied: true });
    await expect.poll(() => told).toBe(1);
    expect((await reports.standing()).mark).not.toBe(before.mark);
    expect(taskOf(desk, "spruce-14", "t1")).toMatchObject({ status: "to-do" });
    expect(await desk.report(report, NOOR, 0)).toEqual({ ok: true, value: "taken-before" });
    planNow();
    await expect.poll(() => taskOf(desk, "spruce-14", "t1")).toMatchObject({ status: "done" });
  });
});

describe("a report", () => {
  it("is on record in the words of the office, with its row, by whoever said it", async () => {
    const { desk, say } = await open();
    const report = await say(aReport({ ...damage(4), note: "soft under the sill" }));
    const [change] = await listChanges(await desks.database(), { limit: 1 });
    expect(change).toMatchObject({
      version: report.version,
      kind: "site-report",
      personName: "Noor",
      sentence:
        "Alder, Side the front at 14 Spruce Lane: Damage: Rotten sheathing, front, 3 sheets, 4 labor-hours more." +
        ' "soft under the sill"',
    });
    expect(desk.current().version).toBe(report.version);
  });

  it("of a start puts the task under way with the crew from when it was said", async () => {
    const { desk, say } = await open();
    const report = await say(aReport(START, { saidMinute: at("2026-12-03T07:20") }));
    expect(report).toMatchObject({ applied: true, meets: null });
    expect(taskOf(desk, "spruce-14", "t1")).toMatchObject({
      status: "under-way",
      doneBy: "alder",
      startedAt: "2026-12-03T07:20",
    });
  });

  it("of done ends the task when it was said, and the plan goes on behind it", async () => {
    const { desk, say } = await open();
    await say(aReport(DONE, { saidMinute: at("2026-12-03T09:45") }));
    expect(taskOf(desk, "spruce-14", "t1")).toMatchObject({
      status: "done",
      doneBy: "alder",
      finishedAt: "2026-12-03T09:45",
    });
    const { company, plan } = desk.current();
    expect(plan.tasks.some(({ job, task }) => job === "spruce-14" && task === "t1")).toBe(false);
    expect(checkPlan(company, plan)).toEqual([]);
  });

  it("of hours left says how many labor-hours are still to do", async () => {
    const { desk, say } = await open();
    await say(aReport(left(7.5)));
    expect(taskOf(desk, "spruce-14", "t1")).toMatchObject({
      status: "under-way",
      leftHours: 7.5,
      doneBy: "alder",
    });
  });

  it("of being stuck holds that trade at that house until midnight, once", async () => {
    const { desk, say } = await open();
    await say(aReport({ ...STUCK, note: "no boards" }, { saidMinute: at("2026-12-03T09:30") }));
    await say(aReport(STUCK));
    expect(desk.current().company.holds).toMatchObject([
      {
        from: "2026-12-03T09:30",
        to: "2026-12-04T00:00",
        trades: ["siding"],
        jobs: ["spruce-14"],
        why: "Stuck: Material: no boards",
      },
    ]);
  });

  it("of being stuck on a later day holds that trade from now until the end of that day", async () => {
    const { desk, say } = await open();
    const report = await say(aReport(STUCK, { date: civilDate("2026-12-04") }));
    expect(report).toMatchObject({ applied: true, meets: null });
    expect(desk.current().company.holds).toMatchObject([
      { from: "2026-12-03T10:00", to: "2026-12-05T00:00" },
    ]);
    expect(
      desk
        .current()
        .plan.blocks.find(({ task }) => task === "t1")
        ?.start.slice(0, 10),
    ).toBe("2026-12-07");
    const [change] = await listChanges(await desks.database(), { limit: 1 });
    expect(change?.sentence).toBe("Alder, Fri 4 Dec, Side the front at 14 Spruce Lane: Stuck: Material.");
  });

  it("of done is of the moment at which it was said, also from the page of a later day", async () => {
    const { desk, say } = await open();
    await say(aReport(DONE, { date: civilDate("2026-12-04") }));
    expect(taskOf(desk, "spruce-14", "t1")).toMatchObject({ finishedAt: "2026-12-03T10:00" });
    const [change] = await listChanges(await desks.database(), { limit: 1 });
    expect(change?.sentence).toBe("Alder, Side the front at 14 Spruce Lane: Done.");
  });

  it("of being stuck weeks ahead holds nothing yet", async () => {
    const { desk, say } = await open();
    const report = await say(aReport(STUCK, { date: civilDate("2026-12-18") }));
    expect(report).toMatchObject({ applied: false, met: ["too-far-ahead"] });
    expect(report.meets).toBe("It is about Fri 18 Dec, more than two weeks ahead: nothing is held.");
    expect(desk.current().company.holds).toEqual([]);
  });

  it("of people missing tomorrow adds what they would have done of that day", async () => {
    const { desk, say } = await open();
    const tomorrow = civilDate("2026-12-04");
    const nextWeek = aReport(short(1), { at: null, date: civilDate("2026-12-11") });
    expect(await say(nextWeek)).toMatchObject({ applied: false, met: ["no-work"] });
    await say(aReport(damage(30)));
    const hours = (): number => taskOf(desk, "spruce-14", "t1")?.laborHours ?? 0;
    const before = hours();
    expect(await say(aReport(short(1), { at: null, date: tomorrow }))).toMatchObject({
      applied: true,
      met: [],
    });
    // Friday from 7:20 to 15:00 with half an hour of break.
    expect(hours() - before).toBeCloseTo(7 + 1 / 6, 1);
  });

  it("of being stuck on a day that is over holds nothing, and says so", async () => {
    const { desk, say } = await open();
    const report = await say(
      aReport(STUCK, { date: civilDate("2026-12-02"), saidMinute: at("2026-12-02T14:00") }),
    );
    expect(report).toMatchObject({ applied: false, met: ["day-over"] });
    expect(report.meets).toBe("It was said on Wed 2 Dec, 2:00 pm, and that day is over: nothing is held.");
    expect(desk.current().company.holds).toEqual([]);
  });

  it("of damage without hours is for the office, and the plan stays the one that it is", async () => {
    const { desk, say } = await open();
    const { plan } = desk.current();
    expect(await say(aReport(damage(null)))).toMatchObject({ applied: false, meets: null });
    expect(desk.current().plan).toEqual(plan);
    const replay = await replayPlan(await desks.database(), desk.current().planId);
    expect(replay.ok && replay.value.isEqual).toBe(true);
  });

  it("of damage on work under way comes on top of what the plan has left of it by then", async () => {
    const { desk, say } = await open();
    await say(aReport(left(9)));
    const later = await desks.open(undefined, { clock: makeFixedClock(NOW + 120) });
    const { company, version } = later.current();
    await later.report(aReport(damage(4)), NOOR);
    await expect.poll(() => desk.current().version).toBe(version + 1);
    // Set up until 10:20, then 100 minutes of three people.
    expect(company.jobs[0]?.tasks[0]?.leftHours).toBe(9);
    expect(taskOf(desk, "spruce-14", "t1")).toMatchObject({ status: "under-way", leftHours: 9 - 5 + 4 });
  });

  it("of a stretch wanted gives no stretch", async () => {
    const { desk, say } = await open();
    expect(await say(aReport(STRETCH, { at: null }))).toMatchObject({ applied: false, jobId: null });
    expect(desk.current().company.crews[0]?.stretch).toEqual([]);
  });

  it("of people missing adds what they would have done of the rest of the day", async () => {
    const { desk, say } = await open();
    await say(aReport(short(1), { at: null, saidMinute: NOW }));
    // By the plan as of 10:00: set up until 10:20, then siding for four hours of three people, a break in between.
    expect(taskOf(desk, "spruce-14", "t1")?.laborHours).toBe(16);
  });

  it("of a whole crew missing is told to the office, who enters a day off", async () => {
    const { say } = await open();
    const report = await say(aReport(short(3), { at: null }));
    expect(report).toMatchObject({ applied: false, met: ["nobody-left"] });
    expect(report.meets).toBe("Alder has 3, so nobody is left that day: a day off is for you to enter.");
  });

  it("is never said after it has come, and a clock that is more than a month off is not believed", async () => {
    const { say } = await open();
    const late = await say(aReport(STRETCH, { at: null, saidMinute: NOW + 90 }));
    expect(late.saidAt).toEqual(late.receivedAt);
    const old = await say(aReport(STRETCH, { at: null, saidMinute: 0 }));
    expect(old.saidAt).toEqual(old.receivedAt);
  });
});

describe("a report that meets a plan that has changed", () => {
  it("of a house that is gone is kept, and says what is gone", async () => {
    const { say } = await open();
    const report = await say(aReport(DONE, { at: { job: "gone-1", task: "t9" } }));
    expect(report).toMatchObject({ applied: false, met: ["not-there"] });
    expect(report.meets).toBe('The house "gone-1" is not in the company any more.');
  });

  it("of done is believed although another crew was to do it, and the office sees both", async () => {
    const { desk, say } = await open();
    const report = await say(aReport(DONE, { crew: "birch" }));
    expect(report).toMatchObject({ applied: true, met: ["other-crew"] });
    expect(report.meets).toContain("The forecast had Side the front at 14 Spruce Lane with Alder, Thu 3 Dec");
    expect(taskOf(desk, "spruce-14", "t1")).toMatchObject({ status: "done", doneBy: "birch" });
  });

  it("tells what others have changed of the task since the crew's page was made", async () => {
    const { desk, say } = await open();
    const seen = desk.current().version;
    const more = { kind: "more", hours: 3 } as const;
    await desk.make({ kind: "hours-added", job: "spruce-14", task: "t1", how: more, begun: null }, CASEY);
    const report = await say(aReport(left(5), { seen }));
    expect(report.meets).toBe(
      "Casey had changed it since the crew's page was made: " +
        "Side the front at 14 Spruce Lane: 3 labor-hours more, 15 labor-hours in all.",
    );
    expect(report).toMatchObject({ applied: true, met: ["changed"] });
  });

  it("of hours left that were said before the task was done does not open it again", async () => {
    const { desk, say } = await open();
    await say(aReport(DONE, { saidMinute: at("2026-12-03T09:40") }));
    const report = await say(aReport(left(3), { saidMinute: at("2026-12-03T08:00") }));
    expect(report).toMatchObject({ applied: false, met: ["said-later"] });
    expect(report.meets).toBe("What was said after it stands already (Done, Thu 3 Dec, 9:40 am).");
    expect(taskOf(desk, "spruce-14", "t1")?.status).toBe("done");
  });

  it("of a start that comes after the end fills in when the task was begun", async () => {
    const { desk, say } = await open();
    await say(aReport(DONE, { saidMinute: at("2026-12-03T09:40") }));
    expect((await say(aReport(START, { saidMinute: at("2026-12-03T07:20") }))).applied).toBe(true);
    expect(taskOf(desk, "spruce-14", "t1")).toMatchObject({
      status: "done",
      startedAt: "2026-12-03T07:20",
      finishedAt: "2026-12-03T09:40",
    });
  });

  it("of more hours on a task that is done says what to do instead", async () => {
    const { say } = await open();
    await say(aReport(DONE));
    const report = await say(aReport(damage(4)));
    expect(report).toMatchObject({ applied: false, met: ["not-possible"] });
    expect(report.meets).toBe(
      "Side the front at 14 Spruce Lane is finished, so it cannot need more hours. If damage was found there, add a task.",
    );
  });
});

describe("what is published", () => {
  it("stays as it is, whatever is reported", async () => {
    const { desk, say } = await open();
    await desk.publish({ planId: desk.current().planId }, ROBIN);
    const { published } = desk.current().company;
    for (const body of [START, left(20), damage(9), STUCK, DONE]) await say(aReport(body));
    await say(aReport(short(2), { at: null, date: civilDate("2026-12-04") }));
    expect(desk.current().company.published).toEqual(published);
  });
});

describe("taking back", () => {
  it("a report makes the forecast what it was, and the report says that it was taken back", async () => {
    const { desk, say } = await open();
    const report = await say(aReport(DONE));
    expect(await desk.undo(report.version, ROBIN, "")).toEqual({ ok: true, value: undefined });
    expect(taskOf(desk, "spruce-14", "t1")?.status).toBe("to-do");
    const reports = openSiteReports(await desks.database());
    expect(await reports.find(report.key)).toMatchObject({ isTakenBack: true });
    expect(await reports.standing()).toMatchObject({ open: 0 });
    expect(await desk.report(aReport(DONE, { key: report.key }), NOOR)).toEqual({
      ok: true,
      value: "taken-before",
    });
  });

  it("a report is refused where a later one that stands had only said the same, so that it goes on holding", async () => {
    const { desk, say } = await open();
    const first = await say(aReport(STUCK));
    const second = await say(aReport({ kind: "stuck", reason: "weather", note: "" }));
    const undone = await desk.undo(first.version, ROBIN, "");
    expect(undone).toMatchObject({ ok: false, error: { refusal: { kind: "depended-on" } } });
    expect(JSON.stringify(undone)).toContain("the same has been said again since (by Noor: Alder, ");
    expect(desk.current().company.holds).toHaveLength(1);
    expect((await desk.undo(second.version, ROBIN, "")).ok).toBe(true);
    expect((await desk.undo(first.version, ROBIN, "")).ok).toBe(true);
    expect(desk.current().company.holds).toHaveLength(0);
  });

  it("a task that somebody has reported on since is refused, also where the report changed nothing of it", async () => {
    const { desk, say } = await open();
    const added = await desk.make(
      { kind: "task-added", job: "spruce-14", beside: "t1", place: "after", trade: "siding", laborHours: 2 },
      CASEY,
    );
    expect(added.ok).toBe(true);
    const { version, company } = desk.current();
    const task = present(
      company.jobs[0]?.tasks.find(({ id }) => !["t1", "t2", "w1"].includes(id)),
      "the added task",
    );
    await say(aReport(damage(null), { at: { job: "spruce-14", task: task.id } }));
    const undone = await desk.undo(version, ROBIN, "");
    expect(undone).toMatchObject({ ok: false, error: { refusal: { kind: "depended-on" } } });
    expect(JSON.stringify(undone)).toContain(
      "work that it added has been reported on since (by Noor: Alder, ",
    );
  });

  it("a publish that moved work which a crew has reported on since is refused", async () => {
    const { desk, say } = await open();
    await desk.publish({ planId: desk.current().planId }, ROBIN);
    const { version } = desk.current();
    await say(aReport(START));
    const undone = await desk.undo(version, ROBIN, "");
    expect(undone).toMatchObject({ ok: false, error: { refusal: { kind: "depended-on" } } });
    expect(JSON.stringify(undone)).toContain("by Noor: Alder, Side the front at 14 Spruce Lane: Begun.");
  });
});
